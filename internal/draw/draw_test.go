package draw

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

// A generator whose draws cluster at one end would test one corner of the physics.
func TestDrawsSpread(t *testing.T) {
	low, high, n := 0, 0, 0
	rapid.Check(t, func(t *rapid.T) {
		x := Log(1e-3, 1e3).Draw(t, "x")
		n++
		if x < 1 {
			low++
		} else {
			high++
		}
	})
	assert.Greater(t, low, n/5)
	assert.Greater(t, high, n/5)
}
