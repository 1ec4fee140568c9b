package drive

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// sin γ − γ·cos γ at 40 digits, on either side of where the series takes over.
func TestHill(t *testing.T) {
	for _, c := range []struct{ gamma, want, tol float64 }{{1e-06, 3.3333333333329995e-19, 1e-14}, {0.001, 3.3333330000000121e-10, 1e-14}, {0.0999, 0.00033200278119826749, 1e-12}, {0.1, 0.00033300011902557575, 1e-12}, {1.2, 0.49720978059521801, 1e-14}} {
		require.InEpsilon(t, c.want, hill(c.gamma), c.tol, "γ = %v", c.gamma)
	}
}
