package drive_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"meltflight/drive"
	"meltflight/internal/draw"
)

// TestPropertyShaftSurvivesArbitraryBits tries stepped shafts, columns and notches with
// arbitrary bits and with the ends of the ranges.
func TestPropertyShaftSurvivesArbitraryBits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		wild := rapid.Bool().Draw(t, "bits")
		value := func(name string, lo, hi float64) float64 {
			switch rapid.IntRange(0, 11).Draw(t, "kind of "+name) {
			case 0:
				if wild {
					return draw.Bits().Draw(t, name)
				}
			case 1, 2:
				return lo
			case 3, 4:
				return hi
			}
			return draw.Log(math.Max(lo, 1e-12), math.Max(hi, 1e-12)).Draw(t, name)
		}
		s := drive.StepShaft{Modulus: value("modulus", 1e6, 1e13), Density: value("density", rapid.SampledFrom([]float64{0, 1}).Draw(t, "light"), 1e5)}
		d := value("diameter", 1e-4, 10)
		for range rapid.IntRange(0, 4).Draw(t, "segments") {
			g := drive.Segment{Length: value("length", 1e-5, 100), Diameter: value("diameter", max(1e-4, d/10), min(10, 10*d))}
			g.Bore = value("bore", 0, 0.99*g.Diameter)
			s.Segments = append(s.Segments, g)
		}
		l := s.Length()
		n := rapid.IntRange(0, 5).Draw(t, "bearings")
		for i := range n {
			s.Bearings = append(s.Bearings, drive.ShaftBearing{
				Position: value("bearing", l*(float64(i)+0.01)/float64(n), l*(float64(i)+0.99)/float64(n)), Give: value("give", 0, 0.01)})
		}
		for range rapid.IntRange(0, 3).Draw(t, "loads") {
			s.Loads = append(s.Loads, drive.PointLoad{Position: value("load", 0, l), Force: value("force", -1e9, 1e9), Couple: value("couple", -1e9, 1e9)})
		}
		for range rapid.IntRange(0, 3).Draw(t, "disks") {
			s.Disks = append(s.Disks, drive.Disk{Position: value("disk", 0, l), Mass: value("mass", 1e-9, 1e6), Inertia: value("inertia", 0, 1e8)})
		}
		finite(t, "StepShaft.Validate", s.Validate())
		bent, err := s.Bend()
		finite(t, "StepShaft.Bend", err)
		for _, r := range bent.Reactions {
			finite(t, "Reactions", nil, r)
		}
		p, err := bent.At(value("place", 0, l))
		finite(t, "ShaftBending.At", err, p)
		w, err := s.Whirl()
		finite(t, "StepShaft.Whirl", err, w)
		k, err := s.TorsionalStiffness(value("rigidity", 1e5, 1e13), value("from", 0, l), value("to", 0, l))
		finite(t, "StepShaft.TorsionalStiffness", err, k)
		f, err := drive.TorsionalFrequency(value("stiffness", 1e-9, 1e15), value("first", 1e-12, 1e9), value("second", 1e-12, 1e9))
		finite(t, "TorsionalFrequency", err, f)

		c := drive.Column{
			Diameter: value("column diameter", 1e-4, 10), Length: value("column length", 1e-5, 100), Ends: value("ends", 0.25, 4),
			Modulus: value("column modulus", 1e8, 1e13), Yield: value("yield", 1e5, 1e10),
		}
		c.Bore = value("column bore", 0, 0.99*c.Diameter)
		finite(t, "Column.Validate", c.Validate())
		b, err := c.Buckling()
		finite(t, "Column.Buckling", err, b, b.Utilisation(1))
		least, err := c.DiameterFor(value("thrust", 1e-6, 1e10))
		finite(t, "Column.DiameterFor", err, least)

		h := drive.Shaft{
			Diameter: value("shaft diameter", 1e-4, 10), BendingNotch: value("bending notch", 1, 20), TorsionNotch: value("torsion notch", 1, 20),
			Yield: value("yield", 1e5, 1e10), Ultimate: value("ultimate", 1e5, 1e10), Endurance: value("endurance", 1e4, 1e10),
		}
		diameters, err := h.Diameters(drive.ShaftLoad{
			BendingMean: value("bending", 0, 1e8), TorqueAlternating: value("torque", 0, 1e8), AxialAlternating: value("axial", 0, 1e10),
		}, value("safety", 0.01, 1000))
		finite(t, "Shaft.Diameters", err, diameters)

		g := drive.Groove{Outer: value("outer", 1e-4, 10), Bottom: value("bottom", 1e-4, 10), Radius: value("radius", 1e-6, 1)}
		seat := drive.Keyseat{Diameter: value("seat diameter", 1e-4, 0.165), Radius: value("seat radius", 1e-6, 6e-3)}
		shoulder := drive.Shoulder{Large: g.Outer, Small: g.Bottom, Radius: g.Radius}
		ultimate := value("ultimate", 345e6, 1517e6)
		for name, form := range map[string]func() (float64, error){
			"Groove.Bending": g.Bending, "Groove.Torsion": g.Torsion, "Groove.Axial": g.Axial, "Keyseat.Bending": seat.Bending, "Shoulder.Axial": shoulder.Axial,
		} {
			x, err := form()
			finite(t, name, err, x)
		}
		x, y, err := g.Fatigue(ultimate)
		finite(t, "Groove.Fatigue", err, x, y)
		x, y, err = seat.Torsion()
		finite(t, "Keyseat.Torsion", err, x, y)
		x, y, err = seat.Fatigue(ultimate)
		finite(t, "Keyseat.Fatigue", err, x, y)
	})
}

func TestShaftClosedFormsAllocateNothing(t *testing.T) {
	s := overhung()
	b, err := s.Bend()
	if err != nil {
		t.Fatal(err)
	}
	c := drive.Column{Diameter: 12e-3, Length: 0.2, Ends: drive.PinnedPinned, Modulus: 205e9, Yield: 400e6}
	h := drive.Shaft{BendingNotch: 1.7, TorsionNotch: 1.4, Yield: 430e6, Ultimate: 650e6, Endurance: 210e6}
	g, seat := drive.Groove{Outer: 12e-3, Bottom: 11e-3, Radius: 0.2e-3}, drive.Keyseat{Diameter: 12e-3, Radius: 0.2e-3}
	if n := testing.AllocsPerRun(100, func() {
		p, _ := b.At(0.07)
		k, _ := s.TorsionalStiffness(80e9, 0.01, 0.14)
		f, _ := drive.TorsionalFrequency(k, 1e-5, 1e-4)
		u, _ := c.Buckling()
		d, _ := c.DiameterFor(1e4)
		w, _ := h.Diameters(drive.ShaftLoad{BendingAlternating: 3, TorqueMean: 8, AxialMean: 6000}, 2)
		x, _, _ := g.Fatigue(700e6)
		y, _, _ := seat.Fatigue(700e6)
		sink += p.Deflection + f + u.Critical + d + w.Goodman + x + y
	}); n != 0 {
		t.Fatalf("%v allocations", n)
	}
}
