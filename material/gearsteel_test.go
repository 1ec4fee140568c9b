package material_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/internal/draw"
	"meltflight/internal/verify"
	"meltflight/material"
)

func gearSteel(t require.TestingT, name string) material.GearSteel {
	g, err := material.GearSteelNamed(name)
	require.NoError(t, err)
	return g
}

func TestCheckGearSteels(t *testing.T) {
	const iso, why = "ISO 6336-5, Table 1, from memory, the line evaluated by hand", "exact"
	var rows []verify.Row
	for _, c := range []struct {
		name                   string
		vickers, contact, root float64 // MPa
	}{
		{"alloy QT MQ", 300, 766.90, 314.50},
		{"alloy QT ML", 300, 581.90, 230.90},
		{"alloy QT MQ", 200, 635.60, 272.00},
		{"carbon QT MQ", 200, 545.0, 211.0},
		{"carbon QT ML", 200, 475.6, 158.0},
		{"case-hardened ML", 700, 1300, 312},
		{"case-hardened MQ", 700, 1500, 425},
		{"case-hardened ME", 700, 1650, 525},
		{"nitrided nitriding steel ML", 800, 1125, 270},
		{"nitrided nitriding steel MQ", 800, 1250, 420},
	} {
		g := gearSteel(t, c.name)
		contact, err := g.Contact(c.vickers)
		require.NoError(t, err)
		root, err := g.Root(c.vickers)
		require.NoError(t, err)
		name := fmt.Sprintf("%s, %g HV, ", c.name, c.vickers)
		rows = append(rows,
			verify.Row{Name: name + "contact", Source: iso, Kind: verify.Memory, Want: c.contact * 1e6, Got: contact, Tol: 1e-9, Why: why},
			verify.Row{Name: name + "root", Source: iso, Kind: verify.Memory, Want: c.root * 1e6, Got: root, Tol: 1e-9, Why: why})
	}
	verify.Table(t, rows)
}

func TestPropertyGearSteels(t *testing.T) {
	for _, g := range material.GearSteels() {
		assert.NotEmpty(t, g.Source, g.Name)
		contact, err := g.Contact(g.ContactLow)
		require.NoError(t, err)
		root, err := g.Root(g.RootLow)
		require.NoError(t, err)
		assert.Greater(t, contact, root, g.Name)
		for _, hv := range []float64{g.ContactLow - 1, g.ContactHigh + 1} {
			_, err := g.Contact(hv)
			assert.ErrorIs(t, err, material.ErrInvalid, g.Name)
		}
		for _, hv := range []float64{g.RootLow - 1, g.RootHigh + 1} {
			_, err := g.Root(hv)
			assert.ErrorIs(t, err, material.ErrInvalid, g.Name)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		hv := draw.Uniform(200, 350).Draw(t, "hardness")
		modest, good := gearSteel(t, "alloy QT ML"), gearSteel(t, "alloy QT MQ")
		for _, ask := range []func(material.GearSteel, float64) (float64, error){material.GearSteel.Contact, material.GearSteel.Root} {
			a, err := ask(modest, hv)
			require.NoError(t, err)
			b, err := ask(good, hv)
			require.NoError(t, err)
			harder, err := ask(good, hv+10)
			require.NoError(t, err)
			require.Less(t, a, b, "care pays")
			require.Less(t, b, harder, "hardness pays")
		}
	})
	_, err := gearSteel(t, "alloy QT MQ").Root(400)
	assert.EqualError(t, err, "material.GearSteel.Root (alloy QT MQ): hardness = 400 HV: allowed 200 to 360 HV")
	_, err = material.GearSteelNamed("cheese")
	assert.ErrorIs(t, err, material.ErrInvalid)
}

func TestPropertyGearSteelAnyBits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		bits := func(name string) float64 { return draw.Bits().Draw(t, name) }
		g := material.GearSteel{ContactSlope: bits("a"), ContactBase: bits("b"), ContactLow: bits("low"), ContactHigh: bits("high"),
			RootSlope: bits("c"), RootBase: bits("d"), RootLow: 50, RootHigh: 1500}
		for _, ask := range []func(float64) (float64, error){g.Contact, g.Root} {
			x, err := ask(rapid.OneOf(draw.Bits(), draw.Uniform(1, 2000)).Draw(t, "hardness"))
			if err == nil {
				require.True(t, x >= 0 && x < 1e12, "%g", x)
			} else {
				require.ErrorIs(t, err, material.ErrInvalid)
			}
		}
	})
}

func ExampleGearSteel_Root() {
	// A pinion of 42CrMo4, 20 mm thick: hardness by its standard, strength by that.
	bar, err := material.CrMo42().StrengthAt(20e-3)
	if err != nil {
		fmt.Println(err)
		return
	}
	vickers, err := material.VickersFromBrinell(bar.Brinell)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, name := range []string{"alloy QT ML", "alloy QT MQ"} {
		steel, err := material.GearSteelNamed(name)
		if err != nil {
			fmt.Println(err)
			return
		}
		contact, err := steel.Contact(vickers)
		if err != nil {
			fmt.Println(err)
			return
		}
		root, err := steel.Root(vickers)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%s, %.0f HV: flank %.0f MPa, root %.0f MPa, unnotched %.0f MPa\n", name, vickers, contact*1e-6, root*1e-6, 2*root*1e-6)
	}
	// Output:
	// alloy QT ML, 314 HV: flank 600 MPa, root 237 MPa, unnotched 473 MPa
	// alloy QT MQ, 314 HV: flank 785 MPa, root 320 MPa, unnotched 641 MPa
}
