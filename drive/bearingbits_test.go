package drive_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"meltflight/drive"
	"meltflight/internal/draw"
	"meltflight/internal/versus"
)

// bearingBits tries what is around a bearing with arbitrary bits in every field and
// argument, or in one or the other only, the ends of their ranges among them.
func bearingBits(t *rapid.T) {
	value := func(name string, lo, hi float64) float64 {
		switch rapid.IntRange(0, 7).Draw(t, "kind of "+name) {
		case 0:
			return draw.Bits().Draw(t, name)
		case 1:
			return lo
		case 2:
			return hi
		}
		return draw.Log(math.Max(lo, 1e-12), hi).Draw(t, name)
	}
	radial, axial := value("radial", 0, 1e9), value("axial", 0, 1e9)
	exponent := value("exponent", 3, drive.Roller)
	speed, reliability := value("speed", 1e-6, 1e4), value("reliability", 0.9, 0.9995)
	bearing := drive.Bearing{Dynamic: value("dynamic", 1, 1e9), Static: value("static", 1, 1e9), Exponent: exponent}
	check := func(name string, l drive.EquivalentLoad, err error) {
		finite(t, name, err, l)
		both, err := l.Utilisations(bearing, speed, reliability, value("wanted", 1, 1e10))
		finite(t, name+".Utilisations", err, both)
	}
	l, err := drive.DeepGrooveLoad(radial, axial, bearing.Static, value("f0", 5, 20))
	check("DeepGrooveLoad", l, err)
	l, err = drive.AngularContactLoad(radial, axial, value("contact angle", 0.349, 0.7854))
	check("AngularContactLoad", l, err)
	l, err = drive.TaperLoad(radial, axial, value("taper's factor", 0.3, 3))
	check("TaperLoad", l, err)
	l, err = drive.ThrustLoad(axial, value("least", 0, 1e9))
	check("ThrustLoad", l, err)
	l, err = drive.AngularThrustLoad(radial, axial, value("thrust angle", 0.785, 1.484), exponent)
	check("AngularThrustLoad", l, err)
	x, err := drive.LeastThrust(value("least factor", 0, 1e6), speed)
	finite(t, "LeastThrust", err, x)
	x, err = drive.HeadThrust(value("pressure", 0, 1e9), value("bore", 1e-3, 1))
	finite(t, "HeadThrust", err, x)

	blocks := make([]drive.BearingBlock, rapid.IntRange(0, 3).Draw(t, "blocks"))
	for i := range blocks {
		blocks[i] = drive.BearingBlock{From: value("from", 0, 1e9), To: value("to", 0, 1e9), Speed: value("block speed", 0, 1e4), Time: value("time", 0, 1e10)}
	}
	mean, err := drive.MeanBearingLoad(blocks, exponent)
	finite(t, "MeanBearingLoad", err, mean)

	spread := drive.LifeSpread{Least: value("least life", 0, 1), Scale: value("scale", 0.1, 100), Slope: value("slope", 0.5, 10)}
	finite(t, "LifeSpread.Validate", spread.Validate())
	turns := value("revolutions", 1, 1e14)
	x, err = spread.Rating(radial, turns, value("spread's reliability", 0.5, 0.9999), exponent)
	finite(t, "LifeSpread.Rating", err, x)
	x, err = spread.Reliability(radial, bearing.Dynamic, turns, exponent)
	finite(t, "LifeSpread.Reliability", err, x)
	x, err = drive.ReliabilityFactor(reliability, drive.ReliabilityTable(rapid.IntRange(-1, 2).Draw(t, "table")))
	finite(t, "ReliabilityFactor", err, x)
	x, err = drive.SystemLife([]float64{value("life", 1e-6, 1e30), value("other life", 1e-6, 1e30)}, value("system's slope", 1, 10))
	finite(t, "SystemLife", err, x)

	film := drive.BearingFilm{Kind: drive.BearingKind(rapid.IntRange(-1, 4).Draw(t, "kind")), ViscosityRatio: value("viscosity ratio", 0.1, 1e4),
		Cleanliness: value("cleanliness", 0, 1), FatigueLimit: value("fatigue limit", 1e-3, 1e9)}
	finite(t, "BearingFilm.Validate", film.Validate())
	x, err = film.Factor(radial)
	finite(t, "BearingFilm.Factor", err, x)
	life, err := bearing.ModifiedLife(radial, speed, reliability, film)
	finite(t, "ModifiedLife", err, life)
	x, err = drive.ReferenceViscosity(value("diameter", 1e-3, 10), speed)
	finite(t, "ReferenceViscosity", err, x)
}

func TestPropertyBearingAnyBits(t *testing.T) { rapid.Check(t, bearingBits) }

func FuzzBearingAnyBits(f *testing.F) { f.Fuzz(rapid.MakeFuzz(bearingBits)) }

// duty is what a screw asks of its bearing: a warm start, a run and a pause.
var duty = []drive.BearingBlock{{From: 0, To: 6e3, Speed: 0.5, Time: 60}, {From: 5e3, To: 5e3, Speed: 0.75, Time: 3000}, {From: 5e3, To: 1e3, Time: 30}}

var film = drive.BearingFilm{Kind: drive.RadialBall, ViscosityRatio: 0.6, Cleanliness: 0.4, FatigueLimit: 900}

func bearingChain(i int) (float64, error) {
	m, err := drive.MeanBearingLoad(duty, drive.Ball)
	if err != nil {
		return 0, err
	}
	l, err := drive.AngularContactLoad(200+float64(i%64), m.Load, 40*degree)
	if err != nil {
		return 0, err
	}
	life, err := machine.bearing.ModifiedLife(l.Dynamic, m.Speed, 0.95, film)
	return life.Seconds, err
}

// inlineChain is the same arithmetic for this duty and this bearing, unchecked.
func inlineChain(i int) float64 {
	turns, sum := 0.0, 0.0
	for _, b := range duty {
		n := b.Speed * b.Time
		turns += n
		sum += n * (b.From + b.To) * (b.From*b.From + b.To*b.To) / 4
	}
	load := 0.35*(200+float64(i%64)) + 0.57*math.Cbrt(sum/turns)
	a := 0.1 * math.Pow(1-math.Pow(2.5671-1.9987*math.Pow(0.6, -0.19087), 0.83)*math.Cbrt(0.4*900/load), -9.3)
	a1 := 0.05 + 0.95*math.Pow(math.Log(0.95)/math.Log(0.9), 2.0/3)
	return 1e6 * a1 * a * math.Pow(machine.bearing.Dynamic/load, 3) / (turns / 3090)
}

func TestBearingChainAgreesAndAllocatesNothing(t *testing.T) {
	for i := range 64 {
		got, err := bearingChain(i)
		assert.NoError(t, err)
		assert.InEpsilon(t, inlineChain(i), got, 1e-11)
	}
	lives := []float64{1e4, 2e4}
	assert.Zero(t, testing.AllocsPerRun(100, func() {
		_, err := bearingChain(3)
		_, err1 := drive.DeepGrooveLoad(1e3, 2e3, 1e4, 14)
		_, err2 := drive.TaperLoad(1e3, 2e3, 1.6)
		_, err3 := drive.AngularThrustLoad(10, 2e3, 1, drive.Ball)
		_, err4 := drive.ManufacturerSpread().Rating(1e3, 1e8, 0.95, drive.Ball)
		_, err5 := drive.SystemLife(lives, 1.5)
		_, err6 := drive.EquivalentLoad{Dynamic: 1e3, Static: 1e3}.Utilisations(machine.bearing, 1, 0.95, 1e6)
		if err != nil || err1 != nil || err2 != nil || err3 != nil || err4 != nil || err5 != nil || err6 != nil {
			t.Fatal("refused")
		}
	}))
}

// BenchmarkBearingChain compares duty, combined load and modified life with the bare formulas.
func BenchmarkBearingChain(b *testing.B) {
	versus.Report(b, "x-inline", func(i int) {
		s, err := bearingChain(i)
		if err != nil {
			b.Fatal(err)
		}
		sink += s
	}, func(i int) { sink += inlineChain(i) })
}
