package drive_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/drive"
	"meltflight/drive/drivetest"
	"meltflight/internal/draw"
	"meltflight/internal/verify"
	"meltflight/material"
)

func TestCheckStageMeshes(t *testing.T) {
	const how = "Willis' equation and closed forms at 10 digits"
	var rows []verify.Row
	for _, c := range []struct {
		p                  drive.PlanetaryStage
		clearance          float64 // mm
		carrierRPM, meshHz float64
		sunLoads           float64
	}{
		{stage(18, 27, 3, 1e-3, 1), 9.97114317, 200, 240, 2.4}, {stage(12, 30, 3, 1e-3, 1), 4.37306696, 142.857142857, 171.428571, 2.571428571},
		{stage(24, 24, 3, 1e-3, 1), 15.56921938, 150, 180, 2.25}, {stage(24, 24, 4, 1e-3, 1), 7.94112550, 150, 180, 3},
		{stage(20, 30, 4, 1e-3, 1), 3.35533906, 20, 26.66667, 3.2}, {stage(12, 24, 3, 0.5e-3, 1), 2.58845727, 500, 500, 2.5},
	} {
		s, err := c.p.Meshes()
		require.NoError(t, err)
		f, err := c.p.Frequencies(c.carrierRPM / 60)
		require.NoError(t, err)
		row := func(what string, want, got, tol float64) {
			rows = append(rows, verify.Row{Name: fmt.Sprintf("%d/%d/%d, %d planets: %s", c.p.Sun, c.p.Planet, c.p.Ring, c.p.Planets, what),
				Source: how, Kind: verify.Own, Want: want, Got: got, Tol: tol, Why: "digits given"})
		}
		row("gap of neighbours, mm", c.clearance, s.Neighbour*1e3, 2e-9)
		row("mesh frequency, 1/s", c.meshHz, f.Mesh, 2e-7)
		row("loads on a sun tooth by turn", c.sunLoads, f.SunLoads, 1e-9)
	}
	s, err := stage(18, 27, 3, 1e-3, 1).Meshes()
	require.NoError(t, err)
	rows = append(rows, verify.Row{Name: "18/27: contact ratio", Source: how, Kind: verify.Own, Want: 1.579714782, Got: s.Sun.Contact, Tol: 1e-9, Why: "ten digits given"},
		verify.Row{Name: "27/72: contact ratio", Source: "closed form from the end of the rack's straight flank", Kind: verify.Own, Want: 1.80520448017, Got: s.Ring.Contact, Tol: 1e-10, Why: "eleven digits given"})
	for n, want := range map[int]float64{3: 1.10, 4: 1.25, 5: 1.35, 6: 1.44, 7: 1.47} {
		got, err := drive.UsualLoadShare(n)
		require.NoError(t, err)
		rows = append(rows, verify.Row{Name: fmt.Sprintf("load share of %d planets", n), Source: "IEC 61400-4 and AGMA 6006, fixed carrier", Kind: verify.Memory, Want: want, Got: got, Tol: 1e-12, Why: "as remembered"})
	}
	verify.Table(t, rows)
	_, err = drive.UsualLoadShare(8)
	assert.ErrorIs(t, err, material.ErrInvalid)
}

// Teeth that do not lie on common axes run with shift: 17/18/52 has one tooth too few.
func TestShiftedStage(t *testing.T) {
	p := stage(17, 18, 3, 1e-3, 1)
	p.Ring = 52
	assert.ErrorContains(t, p.Validate(), "common axes")
	p.SunShift, p.PlanetShift, p.RingShift = 0.1, 0.1, 0
	err := p.Validate()
	assert.ErrorContains(t, err, "drive.PlanetaryStage.RingShift = 0: allowed")
	p.RingShift = 1
	require.NoError(t, p.Validate())
	s, err := p.Meshes()
	require.NoError(t, err)
	assert.InEpsilon(t, s.Sun.Distance, s.Ring.Distance, 1e-12)
	assert.Zero(t, s.Sun.Backlash)
	assert.Greater(t, s.Ring.Backlash, 0.0)
	l, err := p.Load(5, 1)
	require.NoError(t, err)
	assert.InEpsilon(t, 5./3/s.Sun.Distance, l.PinForce, 1e-12)
	assert.InEpsilon(t, 2*math.Pi*s.Sun.Pinion.Working*(l.SunSpeed-l.CarrierSpeed), l.PitchSpeed, 1e-12)
	p.SunShift, p.PlanetShift = -1, -1
	assert.ErrorContains(t, p.Validate(), "distance of their axes")
	p.SunShift, p.PlanetShift, p.Ring = 0.2, 0.1, 60
	assert.ErrorContains(t, p.Validate(), "drive.PlanetaryStage.Ring = 60: allowed 49 to 57")
}

func TestPropertyStageMeshes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drivetest.Stages().Draw(t, "stage")
		// A ring shifted by the sun's shift and twice the planet's shares its axes.
		p.SunShift, p.PlanetShift = draw.Uniform(0, 0.4).Draw(t, "sun"), draw.Uniform(0, 0.3).Draw(t, "planet")
		p.RingShift = p.SunShift + 2*p.PlanetShift
		if p.Validate() != nil {
			return // tips of neighbours
		}
		s, err := p.Meshes()
		if err != nil {
			require.ErrorIs(t, err, material.ErrInvalid)
			return
		}
		require.InDelta(t, 0, s.Ring.Backlash/p.Module, 1e-12)
		require.InEpsilon(t, s.Sun.WorkingAngle, s.Ring.WorkingAngle, 1e-12)
		require.Greater(t, s.Neighbour, 0.0)

		friction := draw.Uniform(0, 0.3).Draw(t, "friction")
		eta, err := s.BasicEfficiency(friction)
		require.NoError(t, err)
		require.InDelta(t, (1-friction*s.Sun.LossFactor)*(1-friction*s.Ring.LossFactor), eta, 1e-12)
		p.MeshEfficiency = max(0.5, eta)
		l, err := p.Load(3, 0.5)
		require.NoError(t, err)
		require.InDelta(t, 0, (l.SunTorque+l.CarrierTorque+l.RingTorque)/3, 1e-12)
		require.InEpsilon(t, 3*0.5, l.SunTorque*l.SunSpeed*p.Efficiency(), 1e-12)

		f, err := p.Frequencies(0.5)
		require.NoError(t, err)
		require.InEpsilon(t, f.Mesh, float64(p.Sun)*(l.SunSpeed-l.CarrierSpeed), 1e-12)
		require.InEpsilon(t, f.Planet, -l.PlanetSpeed, 1e-12)
		require.InEpsilon(t, f.Sun, f.SunLoads*l.SunSpeed, 1e-12)
		require.InEpsilon(t, f.Ring, f.RingLoads*l.SunSpeed, 1e-12)
		require.InEpsilon(t, f.Planet, f.PlanetLoads*l.SunSpeed, 1e-12)
	})
}
