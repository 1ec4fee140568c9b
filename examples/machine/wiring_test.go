package main

import (
	"errors"
	"flag"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"meltflight/drive"
	"meltflight/frame"
	"meltflight/material"
	"meltflight/screw"
	"meltflight/thermal"
)

func TestPageIsAsLastRead(t *testing.T) {
	onStand := defaultMachine(t)
	onStand.Hopper.On = "stand"
	for name, m := range map[string]Machine{"axis": defaultMachine(t), "stand": onStand} {
		p, a := solved(t, m)
		page := m.report(&p, &a)
		file := filepath.Join("testdata", name+".txt")
		if *update {
			require.NoError(t, os.WriteFile(file, []byte(page), 0o644))
		}
		want, err := os.ReadFile(file)
		require.NoError(t, err)
		assert.Equal(t, string(want), page)
	}
}

var update = flag.Bool("update", false, "write the pages of testdata anew")

func TestKeysReachTheirFields(t *testing.T) {
	for name, key := range keyOf {
		section, field, found := strings.Cut(name, " ")
		if !found || !strings.Contains("stand driver", section) {
			section, field = "", name
		}
		m := defaultMachine(t)
		reached := 0
		top := reflect.ValueOf(&m).Elem()
		for i := range top.NumField() {
			at := top.Type().Field(i).Tag.Get("json")
			path := at + "." + key
			if section != "" {
				path = key
			}
			v := find(top, path)
			if !v.IsValid() {
				continue
			}
			for _, bad := range []float64{-1e18, 1e18, 0.5, 9, 0.05} {
				spoilt := m
				if v := find(reflect.ValueOf(&spoilt).Elem(), path); v.Kind() == reflect.Int {
					v.SetInt(int64(bad))
				} else {
					v.SetFloat(bad)
				}
				_, err := spoilt.build()
				joined, ok := err.(interface{ Unwrap() []error })
				if !ok {
					continue // this value is a good one here
				}
				for _, e := range joined.Unwrap() {
					var refused *fileError
					if errors.As(e, &refused) && refused.key == path && strings.Contains(e.Error(), field) {
						reached++
					}
				}
			}
		}
		assert.Positive(t, reached, "%s never refused as %s", key, name)
	}
}

func TestEveryNumberMatters(t *testing.T) {
	page := func(m Machine) string {
		p, err := m.build()
		if err != nil {
			return ""
		}
		a, err := m.solve(&p)
		require.NoError(t, err)
		return m.report(&p, &a)
	}
	for _, on := range []string{"axis", "stand"} {
		m := defaultMachine(t)
		m.Hopper.On = on
		m.Feedstock.Season = 6000 // so long that the bearing's life counts, not the half of its rating
		before := page(m)
		top := reflect.ValueOf(&m).Elem()
		for i := range top.NumField() {
			section := top.Type().Field(i).Tag.Get("json")
			if top.Field(i).Kind() != reflect.Struct || (section == "stand") != (on == "stand") {
				continue
			}
			for j := range top.Field(i).NumField() {
				key := section + "." + top.Field(i).Type().Field(j).Tag.Get("json")
				changed := m
				v := find(reflect.ValueOf(&changed).Elem(), key)
				switch v.Kind() {
				case reflect.Float64:
					v.SetFloat(v.Float() * 1.2)
				case reflect.Int:
					v.SetInt(v.Int() + 1)
				case reflect.Bool:
					v.SetBool(!v.Bool())
				default:
					continue
				}
				if key != "hopper.above_floor_mm" && key != "feeder.above_mm" { // of the stand only; told once the tube overflows
					assert.NotEqual(t, before, page(changed), key)
				}
			}
		}
	}
}

func TestLimitsFromTheLibraryByHand(t *testing.T) {
	m := defaultMachine(t)
	m.Hopper.On = "stand"
	_, a := solved(t, m)
	got := map[string]material.Utilisation{}
	for _, l := range a.limits {
		got[l.Part] = l.Utilisation
	}
	ok := func(err error) { t.Helper(); require.NoError(t, err) }
	check := func(part string, demand, capacity float64) {
		t.Helper()
		assert.InEpsilon(t, demand, got[part].Demand, 1e-9, part+", demand")
		assert.InEpsilon(t, capacity, got[part].Capacity, 1e-9, part+", capacity")
	}

	melt, err := screw.MeltOf(material.PP(), 488.15)
	ok(err)
	cone, err := screw.ConeOf(8e-3, 1.5e-3, math.Pi/3)
	ok(err)
	die := screw.Die{cone, screw.Capillary{Diameter: 1.5e-3, Length: 10e-3}}
	channel := screw.Channel{Bore: 20e-3, Lead: 20e-3, Depth: 1.6e-3, Land: 2e-3, Clearance: 80e-6, Starts: 1, Length: 120e-3}
	under := channel
	under.Depth = 3.6e-3
	flake := material.Bulk{Shape: "flake", BulkDensity: 320, ParticleSize: 4e-3, WallFriction: 20 * math.Pi / 180}
	intake, err := under.Feed(flake, 1.2, 0.35)
	ok(err)
	bed, err := screw.BedOf(material.PP(), 650, 333.15)
	ok(err)
	zones := []screw.Zone{{Length: 60e-3, DepthIn: 3.6e-3, DepthOut: 3.6e-3, Barrel: 333.15}, {Length: 60e-3, DepthIn: 3.6e-3, DepthOut: 3.6e-3, Barrel: 478.15},
		{Length: 80e-3, DepthIn: 3.6e-3, DepthOut: 1.6e-3, Barrel: 478.15}, {Length: 120e-3, DepthIn: 1.6e-3, DepthOut: 1.6e-3, Barrel: 488.15}}
	whole, err := screw.Plasticating{Profile: screw.Profile{Bore: 20e-3, Lead: 20e-3, Land: 2e-3, Clearance: 80e-6, Starts: 1, Zones: zones}, Die: die,
		Solids: screw.Solids{Density: 320, BarrelFriction: 0.35, ScrewFriction: 0.25}, Bed: bed, Melt: melt, Throat: intake.MassFlow, MoltenBy: 0.75}.Run(screw.Running{Speed: 1.2})
	ok(err)
	point := whole.Course
	check("output", 1.5/3600, intake.MassFlow)
	check("bead surface", point.DieShearStress, 1e5)
	warming := (point.ChannelDissipation + point.LandDissipation) / (point.MassFlow * melt.SpecificHeat)
	check("melt heat, over the air", 185+warming+point.DieTemperatureRise, 230)
	auger, err := screw.Auger{Diameter: 30e-3, Shaft: 10e-3, Pitch: 30e-3, Thickness: 2e-3, Clearance: 1.5e-3, Length: 0.25}.Feed(flake, 14./60)
	ok(err)
	check("feed auger", intake.MassFlow, 0.7*auger.MassFlow)
	small, err := screw.Outlet{Width: 45e-3}.SmallFlow(flake)
	ok(err)
	check("hopper outlet", 0.7*auger.MassFlow, small)
	cycle, err := screw.LevelControl{Area: math.Pi * 14e-3 * 14e-3, Below: 80e-3, Band: 100e-3, Above: 60e-3, SensorDelay: 0.5, StartDelay: 5, AfterRun: 2,
		AugerRate: 0.7 * auger.MassFlow, BulkDensity: 320}.Cycle(intake.MassFlow)
	ok(err)
	check("drop tube reserve", cycle.Undershoot, 80e-3)
	check("throat, over the air", 30, material.PP().Softening-25-303.15)
	cold, err := thermal.Sleeve{Outer: 14e-3, Inner: 10e-3, Length: 40e-3, Conductivity: 16, Coefficient: 10}.Cooled(478.15, 1, 303.15, 303.15)
	ok(err)
	check("throat collar, over the air", cold.Cold-303.15, 30)
	land, err := material.HardnessPressure(300)
	ok(err)
	bore, err := material.HardnessPressure(900)
	ok(err)
	screwRoot := screw.Root{Diameter: 12.8e-3, Length: 0.32, Modulus: 200e9, Density: 7850, Yield: 300e6}
	lean, moment, err := screwRoot.LeaningForce(0.05e-3, 0.02*math.Pi/180)
	ok(err)
	worn, _, err := channel.TimeTo(0.9, screw.Scraping{Force: lean, Length: 20e-3, LandRate: 1e-6 / land, BarrelRate: 1e-6 / bore}, die, melt, 1.2)
	ok(err)
	check("screw and barrel wear", 600, worn/3600)

	torque := whole.Torque + 2
	stage := drive.PlanetaryStage{Sun: 18, Planet: 27, Ring: 72, Planets: 3, Module: 0.6e-3, Face: 10e-3, MeshEfficiency: 0.97, LoadShare: 1.2}
	load, err := stage.Load(torque, 1.2)
	ok(err)
	winding := thermal.Winding{Resistance: 1.1, Phases: 2, ThermalResistance: 2.6, IronLoss: 3}
	warm, err := winding.Steady(2.8, 303.15)
	ok(err)
	motor, err := drive.Stepper{HoldingTorque: 1.9, Current: 2.8, Resistance: 1.1, Inductance: 3.6e-3, RotorTeeth: 50}.Warm(warm.Temperature)
	ok(err)
	switches := thermal.Bridge{OnResistance: 65e-3, TemperatureCoefficient: 0.005, Supply: 36, RiseTime: 100e-9, FallTime: 80e-9,
		ChopFrequency: 40e3, Quiescent: 10e-3, DiodeDrop: 0.8, DeadTime: 200e-9}
	hot, err := switches.Steady(2.8, 318.15, thermal.Path{JunctionToCase: 2, CaseToSink: 1.5, SinkToAir: 15})
	ok(err)
	motor.Resistance += 0.13 * (1 + 0.005*(hot.Junction-298.15))
	pull, err := motor.PullOut(load.SunSpeed, 2.8, 36)
	ok(err)
	check("motor pull-out", load.SunTorque, pull.Torque)
	tooth := drive.ToothMaterial{Young: 206e9, Poisson: 0.3, RootLimit: 425e6, FlankLimit: 1500e6, Life: drive.CaseLife()}
	factors := drive.CommonGearFactors()
	wheels := [3]drive.ToothMaterial{tooth, tooth, tooth}
	gears, err := stage.Rate(load, 600*3600, wheels, factors)
	ok(err)
	for _, u := range gears.Utilisations {
		check(u.Part, u.Demand, u.Capacity)
	}
	endurance, err := drive.EnduranceLimit(700e6, 12e-3, drive.Machined, 0.9)
	ok(err)
	shank := drive.Shaft{Diameter: 12e-3, BendingNotch: 2.1, TorsionNotch: 3, Yield: 490e6, Ultimate: 700e6, Endurance: endurance}
	fatigue, err := shank.Fatigue(drive.ShaftLoad{BendingAlternating: 1.5 + moment, TorqueMean: torque, TorqueAlternating: 0.3 * torque, AxialMean: point.Thrust})
	ok(err)
	for _, u := range fatigue.Utilisations(shank) {
		check(u.Part, u.Demand, u.Capacity)
	}
	bearing := drive.Bearing{Dynamic: 14e3, Static: 24e3, Exponent: drive.Ball}
	jam, err := motor.PullOut(0, 2.8, 36)
	ok(err)
	jamLoad, err := stage.Load(jam.Torque*5*stage.Efficiency(), 0) // all of it on the sun
	ok(err)
	assert.InEpsilon(t, jam.Torque, jamLoad.SunTorque, 1e-12)
	factors.Application, factors.Dynamic = 1, 1
	jamTeeth, err := stage.Rate(jamLoad, 1, wheels, factors)
	ok(err)
	check("ring tooth, screw jammed", jamTeeth.Utilisations[2].Demand, jamTeeth.Utilisations[2].Capacity)
	jamShaft, err := shank.Fatigue(drive.ShaftLoad{BendingMean: 1.5 + moment, TorqueMean: jam.Torque * 5, AxialMean: whole.ClosedThrust})
	ok(err)
	check("shaft, screw jammed", jamShaft.Utilisations(shank)[1].Demand, 490e6)
	check("bearing, nozzle blocked", whole.ClosedThrust, 24e3)
	jammed, err := screwRoot.Strength(jam.Torque*5, whole.ClosedThrust)
	ok(err)
	check("screw root, screw jammed", jammed.Demand, 300e6)
	wall, err := screw.Barrel{Inner: 20e-3, Outer: 42e-3, Yield: 220e6}.Strength(whole.ClosedPressure)
	ok(err)
	check("barrel, nozzle blocked", wall.Demand, 220e6)
	size, err := drive.StandardKey(12e-3)
	ok(err)
	keyed, err := drive.KeyJoint{Diameter: 12e-3, Size: size, Length: 16e-3, Keys: 1}.Utilisations(jam.Torque*5, drive.KeyStrength{Key: 350e6, Shaft: 490e6, Hub: 300e6})
	ok(err)
	for _, u := range keyed {
		check(strings.Replace(u.Part, "groove ", "", 1)+", jammed", u.Demand, u.Capacity)
	}
	check("coupling", torque*1.3*1.75, 30)
	rating, err := bearing.Utilisations(point.Thrust, 1.2, 0.9, 600*3600)
	ok(err)
	for _, u := range rating {
		check(u.Part, u.Demand, u.Capacity)
	}

	bridge := thermal.Bridge{OnResistance: 65e-3, TemperatureCoefficient: 0.005, Supply: 36, RiseTime: 100e-9, FallTime: 80e-9,
		ChopFrequency: 40e3, Quiescent: 10e-3, DiodeDrop: 0.8, DeadTime: 200e-9}
	chip, err := bridge.LargestCurrent(398.15, 318.15, thermal.Path{JunctionToCase: 2, CaseToSink: 1.5, SinkToAir: 15})
	ok(err)
	check("driver junction", 2.8, chip)
	copper, err := winding.LargestCurrent(393.15, 303.15)
	ok(err)
	check("motor winding", 2.8, copper)

	tube, err := frame.RectangularTube(60e-3, 40e-3, 3e-3)
	ok(err)
	axis := frame.Axis{Beam: frame.Beam{Length: 0.9, Section: tube, Metal: material.Al6060()},
		Ends: frame.EndStiffness{Y: 1e6, Z: 5e6, Roll: 2e4}, Bodies: []frame.Body{{Mass: 4.5, Offset: [3]float64{0, 0, -0.08}}}}
	move := frame.Move{Distance: 0.3, Speed: 0.15, Acceleration: 1.5}
	ringing, err := axis.Ringing(move, 0.01, [3]float64{0, 0, -0.2})
	ok(err)
	check("bead ripple", ringing.Worst, 0.15e-3)
	leg, err := frame.RectangularTube(30e-3, 30e-3, 2e-3)
	ok(err)
	stand := frame.Stand{Height: 0.9, Width: 0.5, Depth: 0.4, Leg: leg, Metal: material.S235(), Mass: 1 + 1.92, MassHeight: 1.05}
	buckling, err := stand.Buckling((1 + 1.92) * 9.80665)
	ok(err)
	check(buckling.Part, buckling.Demand, buckling.Capacity)
	tipping, err := stand.Tipping(1)
	ok(err)
	check(tipping.Part, tipping.Demand, tipping.Capacity)

	// On the axis the hopper's fill counts.
	m.Hopper.On = "axis"
	_, a = solved(t, m)
	worst := 0.0
	for i := range 21 {
		axis.Bodies = []frame.Body{{Mass: 4.5, Offset: [3]float64{0, 0, -0.08}},
			{Mass: 1 + 1.92*float64(i)/20, Offset: [3]float64{0, 0.12, 0.15}}}
		r, err := axis.Ringing(move, 0.01, [3]float64{0, 0, -0.2})
		ok(err)
		worst = math.Max(worst, r.Worst)
	}
	assert.InEpsilon(t, worst, a.worst.ringing.Worst, 1e-9)
}

func TestReadmeShowsThePage(t *testing.T) {
	readme, err := os.ReadFile("../../README.md")
	require.NoError(t, err)
	_, shown, found := strings.Cut(string(readme), "```\nLimits, weakest first")
	require.True(t, found)
	shown, _, _ = strings.Cut("Limits, weakest first"+shown, "```")
	_, page, _ := runWith("-out", "-")
	for _, line := range strings.Split(shown, "\n") {
		if strings.TrimSpace(line) != "..." {
			assert.Contains(t, page, line)
		}
	}
}
