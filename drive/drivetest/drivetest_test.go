package drivetest

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestPropertyDrawsAreValid(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		require.NoError(t, Steppers().Draw(t, "motor").Validate())
		require.NoError(t, Trains().Draw(t, "train").Validate())
		require.NoError(t, Stages().Draw(t, "stage").Validate())
		_, err := GearPairs().Draw(t, "pair").Mesh()
		require.NoError(t, err)
		shaft := Shafts().Draw(t, "shaft")
		require.NoError(t, shaft.Validate())
		_, err = shaft.Fatigue(ShaftLoads().Draw(t, "load"))
		require.NoError(t, err)
		_, _, err = Shoulders().Draw(t, "shoulder").Fatigue(600e6)
		require.NoError(t, err)
		require.NoError(t, StepShafts().Draw(t, "stepped shaft").Validate())
		require.NoError(t, Bearings().Draw(t, "bearing").Validate())
	})
}
