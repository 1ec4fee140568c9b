package input

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestFaultsNameEveryField(t *testing.T) {
	var f Faults
	f.Between("screw.Channel.Bore", math.NaN(), 1e-3, 1, "m")
	f.Between("screw.Channel.Land", 0.002, 0, 0.5, "m")
	f.Between("screw.Channel.Depth", -0.5, 1e-5, 0.5, "m")
	f.Count("screw.Channel.Starts", 0, 1, 8)
	err := f.Err()
	assert.ErrorIs(t, err, ErrInvalid)
	assert.EqualError(t, err, "screw.Channel.Bore = NaN m: allowed 0.001 to 1 m\n"+
		"screw.Channel.Depth = -0.5 m: allowed 1e-05 to 0.5 m\n"+
		"screw.Channel.Starts = 0: allowed 1 to 8")
	var field *Field
	assert.ErrorAs(t, err, &field)
	assert.Equal(t, "screw.Channel.Bore", field.Name)
}

func TestWord(t *testing.T) {
	err := error(&Word{"hopper", "hand", "axis or stand"})
	assert.ErrorIs(t, err, ErrInvalid)
	assert.EqualError(t, err, `hopper = "hand": allowed axis or stand`)
}

func TestNoFaultsAllocateNothing(t *testing.T) {
	x := 0.02
	assert.Zero(t, testing.AllocsPerRun(100, func() {
		var f Faults
		f.Between("bore", x, 1e-3, 1, "m")
		f.Count("starts", 1, 1, 8)
		if f.Err() != nil {
			panic("refused")
		}
	}))
}
