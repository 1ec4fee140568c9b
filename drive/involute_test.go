package drive_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/drive"
	"meltflight/internal/draw"
	"meltflight/internal/verify"
	"meltflight/material"
)

func degrees(a float64) float64 { return a * math.Pi / 180 }

func TestCheckInvolute(t *testing.T) {
	const how = "tan α − α at 40 digits"
	var rows []verify.Row
	for _, c := range []struct{ angle, inv float64 }{
		{1, 1.77240827429e-6}, {5, 0.00022220092620753}, {10, 0.001794055509032}, {14.5, 0.0055448428167125},
		{20, 0.014904383867336}, {25, 0.029975345156416}, {35, 0.089342300011694}, {45, 1 - math.Pi/4}, {60, 0.68485325637228},
	} {
		got, err := drive.Involute(degrees(c.angle))
		require.NoError(t, err)
		rows = append(rows, verify.Row{Name: fmt.Sprintf("involute of %g°", c.angle), Source: how, Kind: verify.Own, Want: c.inv, Got: got, Tol: 5e-12, Why: "12 digits given"})
	}
	for _, c := range []struct{ inv, angle float64 }{
		{1e-6, 0.014422095713771}, {1e-4, 0.066903318047789}, {0.001, 0.14382602513773}, {0.01, 0.30677254718513}, {0.05, 0.51203981431629},
		{0.2, 0.770352497535}, {0.5, 0.97501719326413}, {1, 1.1322677252729}, {2, 1.2743926619383},
	} {
		got, err := drive.InvoluteAngle(c.inv)
		require.NoError(t, err)
		rows = append(rows, verify.Row{Name: fmt.Sprintf("angle of involute %g", c.inv), Source: how + ", inverted", Kind: verify.Own, Want: c.angle, Got: got, Tol: 1e-13, Why: "13 digits given"})
	}
	verify.Table(t, rows)
}

func TestPropertyInvoluteInverts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := draw.Log(1e-9, 1.48).Draw(t, "angle")
		inv, err := drive.Involute(a)
		require.NoError(t, err)
		back, err := drive.InvoluteAngle(inv)
		require.NoError(t, err)
		require.InEpsilon(t, a, back, 2e-13)
	})
}

func TestCheckModules(t *testing.T) {
	var rows []verify.Row
	const how = "ISO 54:1996 and, below 1 mm, DIN 780-1:1977"
	for _, c := range []struct {
		least  float64
		second bool
		want   float64
	}{{1.01, false, 1.25}, {1.01, true, 1.125}, {6.2, true, 6.5}, {6.2, false, 8}, {1, false, 1}, {0.5, false, 0.5}, {0.51, true, 0.55}, {0.33, false, 0.4}, {46, true, 50}} {
		got, err := drive.NextModule(c.least/1000, c.second)
		require.NoError(t, err)
		rows = append(rows, verify.Row{Name: fmt.Sprintf("module from %g mm, mm", c.least), Source: how, Kind: verify.Memory, Want: c.want, Got: got * 1000, Tol: 1e-12, Why: "exact"})
	}
	verify.Table(t, rows)
	_, err := drive.NextModule(0.051, true)
	assert.ErrorIs(t, err, material.ErrInvalid)
	for step, last := 5e-5, 0.0; step <= 0.05; step *= 1.01 { // in order, without a gap
		m, err := drive.NextModule(step, true)
		require.NoError(t, err)
		assert.True(t, m >= step*(1-1e-9) && m >= last && m < 1.3*step, "%v for %v", m, step)
		last = m
	}
}
