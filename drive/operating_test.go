package drive_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/drive"
	"meltflight/internal/draw"
	"meltflight/internal/verify"
	"meltflight/internal/versus"
	"meltflight/material"
)

func TestCheckOperate(t *testing.T) {
	const how = "voltage and current of both phases written in time and averaged by quadrature, 30 digits; d-current by root finding"
	const ten = "ten digits given"
	var rows []verify.Row
	for _, c := range []struct{ torque, rpm, iron, current, voltage, angle, electrical, copper float64 }{
		{0.8, 225, 0, 2.8, 28.5434862824, 0.434605525607, 36.0975559215, 17.248},
		{0.8, 450, 0, 1.4038399996, 36, 0.996918051065, 42.0347986809, 4.33568683785},
		{0.8, 450, 5, 1.49443671327, 36, 1.10512580524, 47.612462241, 4.91335039792},
		{1.7, 450, 0, 2.60267534539, 36, 1.84525413614, 95.0132343643, 14.9026216977},
		{0.3, 1500, 0, 1.22706689633, 36, 2.77300924296, 50.4364147736, 3.31252496977},
	} {
		o, err := big.Operate(c.torque, c.rpm/60, 2.8, 36, c.iron)
		require.NoError(t, err)
		rows = append(rows,
			ownRow("rms current, A", how, c.current, o.Current, 1e-10, ten),
			ownRow("voltage, V", how, c.voltage, o.Voltage, 1e-10, ten),
			ownRow("load angle, rad", how, c.angle, o.LoadAngle, 1e-10, ten),
			ownRow("electrical power, W", how, c.electrical, o.ElectricalPower, 1e-10, ten),
			ownRow("copper loss, W", how, c.copper, o.CopperLoss, 1e-10, ten))
	}
	two, err := small.Operate(0, 0, 1.5, 24, 0) // both phases on at 1.5 A: √2·1.5 A amplitude
	require.NoError(t, err)
	one, err := small.Operate(0, 0, drive.RMS(1.5), 24, 0)
	require.NoError(t, err)
	rows = append(rows,
		ownRow("idle copper loss, peak 1.5 A, W", "1.65·1.5²", 3.7125, one.CopperLoss, 1e-14, "exact"),
		ownRow("idle copper loss, two phases on at 1.5 A, W", "2·1.65·1.5²", 7.425, two.CopperLoss, 1e-14, "exact"))
	verify.Table(t, rows)
}

// Electrical power, computed from voltage and current, is what the windings, the iron and
// the shaft take; the point lies within both circles, and pull-out is the last one.
func TestPropertyOperateBalances(t *testing.T) {
	limited := map[drive.Regime]float64{}
	tries := 0.0
	rapid.Check(t, func(t *rapid.T) {
		s, speed, current, supply := driver(t)
		p, err := s.PullOut(speed, current, supply)
		if err != nil {
			_, err = s.Operate(0.001*s.HoldingTorque, speed, current, supply, 0)
			require.ErrorIs(t, err, drive.ErrOutOfStep)
			return
		}
		tries++
		share, ironShare := draw.Uniform(0, 0.999).Draw(t, "share"), draw.Uniform(0, 1).Draw(t, "iron share")
		if rapid.Bool().Draw(t, "no iron loss") {
			ironShare = 0
		}
		iron := ironShare * share * p.MechanicalPower
		o, err := s.Operate((1-ironShare)*share*p.Torque, speed, current, supply, iron)
		require.NoError(t, err)
		apparent := o.Voltage * o.Current * math.Sqrt2
		require.InDelta(t, 0, (o.ElectricalPower-o.CopperLoss-o.IronLoss-o.ShaftPower)/apparent, 1e-12)
		require.InEpsilon(t, 2*s.Resistance*o.Current*o.Current, o.CopperLoss, 1e-12)
		require.LessOrEqual(t, o.Current, current*(1+1e-12))
		require.LessOrEqual(t, o.Voltage, supply*(1+1e-9))
		require.InDelta(t, share*p.Torque, s.TorqueConstant()*math.Sqrt2*o.Current*math.Sin(o.LoadAngle), 1e-9*p.Torque)
		if o.Regime == drive.CurrentLimited {
			require.InEpsilon(t, current, o.Current, 1e-12)
		} else {
			require.InEpsilon(t, supply, o.Voltage, 1e-9)
		}
		limited[o.Regime]++

		_, err = s.Operate(p.Torque*(1-1e-9), speed, current, supply, 0)
		require.NoError(t, err)
		_, err = s.Operate(p.Torque*(1+1e-6), speed, current, supply, 0)
		require.ErrorIs(t, err, drive.ErrOutOfStep)
	})
	assert.Greater(t, limited[drive.CurrentLimited], 0.05*tries)
	assert.Greater(t, limited[drive.VoltageLimited], 0.05*tries)
}

func TestOperateAtStandstill(t *testing.T) {
	o, err := big.Operate(0.95, 0, 2.8, 36, 0)
	require.NoError(t, err)
	assert.InEpsilon(t, math.Pi/6, o.LoadAngle, 1e-12)
	assert.Zero(t, o.Efficiency())
	o, err = big.Operate(0.5, 0, 2.8, 2, 0) // 2 V drive 1.82 A
	require.NoError(t, err)
	assert.InEpsilon(t, 2/1.1/math.Sqrt2, o.Current, 1e-12)
	assert.Equal(t, drive.VoltageLimited, o.Regime)
	_, err = big.Operate(0.5, 0, 2.8, 36, 1)
	assert.EqualError(t, err, "drive.Stepper.Operate: iron loss = 1 W: allowed 0 W at standstill")
	_, err = big.Operate(0.6, 25, 2.8, 36, 0)
	assert.EqualError(t, err, "motor falls out of step: drive.Stepper.Operate: 0.6 N·m with the iron's share at 25 rev/s: 2.8 A on 36 V hold 0.5608 N·m")
	assert.Zero(t, drive.OperatingPoint{}.Efficiency())
	o, err = big.Operate(0.3, 25, 3, 36, 0)
	require.NoError(t, err)
	assert.NotEmpty(t, o.Beyond)
	assert.InEpsilon(t, o.ShaftPower/(o.ShaftPower+o.CopperLoss), o.Efficiency(), 1e-12)
}

// Rows of the pull-out curve beyond those of TestCheckPullOut: what the amplitude of the
// supply is taken for, how warm the winding is, and a motor whose current limit always binds.
func TestCheckPullOutMore(t *testing.T) {
	const scan = "largest q-current within both circles, constrained optimiser"
	const free = "K·(V/Z − E·R/Z²) in decimal arithmetic; Runge-Kutta on the phase equations agrees"
	var rows []verify.Row
	row := func(s drive.Stepper, rpm, current, supply, want, half float64, how string) {
		rows = append(rows, ownRow("pull-out, N·m", how, want, pullOut(t, s, rpm, current, supply).Torque, half/want, "half the last digit given"))
	}
	for _, c := range []struct{ supply, at450, at900, at1500 float64 }{
		{32.4, 1.6319689, 0.8318853, 0.4997346}, {36 * 4 / math.Pi, 1.9, 1.2111270, 0.7275851},
		{36 / math.Sqrt2, 1.2648890, 0.6358901, 0.3819797}, {24, 1.1832195, 0.5947997, 0.3572923},
	} {
		row(big, 450, 2.8, c.supply, c.at450, 5.1e-8, scan)
		row(big, 900, 2.8, c.supply, c.at900, 5.1e-8, scan)
		row(big, 1500, 2.8, c.supply, c.at1500, 5.1e-8, scan)
	}
	for _, c := range []struct{ ohm, at450, at900, at1500 float64 }{{0.9, 1.790583, 0.949120, 0.569947}, {1.3, 1.753548, 0.917797, 0.551600}} {
		s := big
		s.Resistance = c.ohm
		row(s, 450, 2.8, 36, c.at450, 5.1e-7, scan)
		row(s, 900, 2.8, 36, c.at900, 5.1e-7, scan)
		row(s, 1500, 2.8, 36, c.at1500, 5.1e-7, scan)
	}
	for _, c := range []struct{ supply, rpm, torque float64 }{
		{24, 1000, 0.306929651226}, {12, 300, 0.419652983617}, {12, 600, 0.225901682603}, {12, 1000, 0.119805825952}, {36, 1000, 0.428980750651},
	} {
		row(small, c.rpm, 1.5/math.Sqrt2, c.supply, c.torque, 0.51e-12, "angle of the full current at which |v| is the supply, root finding at 25 digits")
	}
	for _, c := range []struct{ supply, rpm, torque, half float64 }{
		{24, 100, 2.78057493285, 0.51e-11}, {24, 400, 0.912578321782, 0.51e-12}, {24, 1000, 0.372788381505, 0.51e-12}, {24, 2000, 0.186969485826, 0.51e-12},
		{12, 1000, 0.15896, 5.1e-6}, {36, 2000, 0.29427, 5.1e-6}, {48, 600, 1.32358, 5.1e-6},
	} {
		row(small, c.rpm, 1e3, c.supply, c.torque, c.half, free)
	}
	k, pl := big.TorqueConstant(), 50*3.6e-3
	rows = append(rows, ownRow("power that high speed tends to, W", "K·V/pL − K²R/(pL)² in decimal arithmetic", 88.14805497,
		pullOut(t, big, 6e5, 2.8, 36).MechanicalPower, 4.8e-9, "at 10 000 rev/s (R/X)²/2 is 4.7e-9"))
	assert.InEpsilon(t, 88.14805497, k*36/pl-k*k*1.1/(pl*pl), 1e-9)
	verify.Table(t, rows)
}

// At standstill torque goes with the current, far up with 1/speed; between, a warm winding
// never gives more.
func TestPropertyPullOutAsymptotesAndWarmth(t *testing.T) {
	tails, tries := 0.0, 0.0
	rapid.Check(t, func(t *rapid.T) {
		tries++
		s, speed, current, supply := driver(t)
		warm, err := s.Warm(material.Celsius(draw.Uniform(20, 180).Draw(t, "°C")))
		require.NoError(t, err)
		require.LessOrEqual(t, torqueAt(t, warm, speed, current, supply), torqueAt(t, s, speed, current, supply)*(1+1e-9))
		full, _, err := s.Corners(current, supply)
		require.NoError(t, err)
		if full > 0 {
			share := draw.Uniform(0, 0.999).Draw(t, "below the corner")
			require.InEpsilon(t, s.HoldingTorque*current/s.Current, torqueAt(t, s, share*full, current, supply), 1e-12)
		}
		k, pl := s.TorqueConstant(), float64(s.RotorTeeth)*s.Inductance
		power := k*supply/pl - k*k*s.Resistance/(pl*pl)
		far := 1e3 * s.Resistance / (2 * math.Pi * pl) // reactance a thousand resistances
		if p, err := s.PullOut(math.Min(far, 1e4), 1e3, supply); err == nil && far <= 1e4 && power > 0.01*k*supply/pl {
			tails++
			require.InEpsilon(t, power, p.MechanicalPower, 1e-4)
		}
	})
	assert.Greater(t, tails, 0.2*tries)
}

// The reference is the arithmetic of a point that voltage limits, written out.
func BenchmarkOperate(b *testing.B) {
	torque := func(i int) float64 { return 0.2 + 0.001*float64(i%300) }
	k := 1.9 / (2.8 * math.Sqrt2)
	versus.Report(b, "x-inline", func(i int) {
		o, err := big.Operate(torque(i), 15, 2.8, 36, 1)
		if err != nil {
			b.Fatal(err)
		}
		sink += o.ElectricalPower
	}, func(i int) {
		w := 2 * math.Pi * 15.0
		e, x, q := k*w, 50*w*3.6e-3, (torque(i)+1/w)/k
		z2 := 1.1*1.1 + x*x
		lack := z2*q*q + 2*e*1.1*q + e*e - 36*36
		d := -lack / (e*x + math.Sqrt(e*e*x*x-z2*lack))
		vd, vq := 1.1*d-x*q, 1.1*q+x*d+e
		sink += vd*d + vq*q
		sink += math.Sqrt((d*d+q*q)/2) + math.Sqrt(vd*vd+vq*vq) + math.Atan2(q, d) + 1.1*(d*d+q*q) + torque(i)*w
	})
}
