package material_test

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
	"testing"
	"testing/iotest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/internal/input"
	"meltflight/material"
	"meltflight/material/materialtest"
)

func TestPropertyPolymerFileRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := materialtest.UserPolymers().Draw(t, "polymer")
		if rapid.Bool().Draw(t, "one of the package") {
			p = rapid.SampledFrom(material.Polymers()).Draw(t, "known")
		}
		var file bytes.Buffer
		if _, blend := p.Viscosity.(material.Blend); blend {
			require.ErrorContains(t, p.Write(&file), "a law a file can hold")
			return
		}
		require.NoError(t, p.Write(&file))
		text := file.String()
		back, err := material.ReadPolymer(&file)
		require.NoError(t, err, text)
		require.Equal(t, p, back, "to the last bit")
		var again bytes.Buffer
		require.NoError(t, back.Write(&again))
		require.Equal(t, text, again.String())
	})
}

// A shift travels beside its law, and beside no other.
func TestPolymerFileShift(t *testing.T) {
	p := material.PP()
	p.Viscosity = material.CarreauYasuda{Eta0: 2000, Lambda: 0.1, N: 0.3, Yasuda: 0.7, Shift: material.WLF{C1: 4, C2: 150, Reference: 473.15}}
	text := written(t, p)
	require.Contains(t, text, `"shift": {`)
	back, err := material.ReadPolymer(strings.NewReader(text))
	require.NoError(t, err)
	require.Equal(t, p, back)
	_, err = material.ReadPolymer(strings.NewReader(strings.Replace(written(t, material.ABS()), `"viscosity": {`, `"shift": {"arrhenius": {"activation_energy_j_per_mol": 4e4, "reference_k": 470}}, "viscosity": {`, 1)))
	require.ErrorContains(t, err, "beside power_law or carreau_yasuda only")
}

func written(t *testing.T, p material.Polymer) string {
	var file strings.Builder
	require.NoError(t, p.Write(&file))
	return file.String()
}

func TestReadPolymerReportsEveryFault(t *testing.T) {
	good := written(t, material.PP())
	spoil := func(pairs ...string) error {
		text := strings.NewReplacer(pairs...).Replace(good)
		require.NotEqual(t, good, text)
		p, err := material.ReadPolymer(strings.NewReader(text))
		require.Zero(t, p)
		require.ErrorIs(t, err, material.ErrInvalid)
		return err
	}
	err := spoil(`"melt_density_kg_per_m3": 742.6,`, "", `"softening_k"`, `"softening_c"`, `"index": 0.41`, `"index": "0.41"`, `"crystalline": true`, `"crystalline": 1`)
	for _, line := range []string{
		"polymer.melt_density_kg_per_m3 is missing: a number is needed",
		"polymer.softening_k is missing",
		"polymer.softening_c is not a known key: allowed name, crystalline, transition_k",
		`viscosity.power_law.index is the text "0.41": a number is needed`,
		"polymer.crystalline is 1: true or false is needed",
	} {
		assert.ErrorContains(t, err, line)
	}
	err = spoil(`"melt_density_kg_per_m3": 742.6`, `"melt_density_kg_per_m3": 7.4`, `"index": 0.41`, `"index": 41`, `"b0_pa": 142360000`, `"b0_pa": 142`)
	for _, line := range []string{"material.Polymer.MeltDensity = 7.4 kg/m³: allowed 100 to 5000 kg/m³", "material.PowerLaw.Index = 41", "material.Tait.B0 = 142 Pa"} {
		assert.ErrorContains(t, err, line)
	}
	err = spoil(`"power_law": {`, `"newtonian": {"viscosity_pa_s": 300}, "power_law": {`)
	assert.ErrorContains(t, err, `viscosity = "2 laws": allowed one of newtonian, power_law, cross_wlf`)
	assert.ErrorContains(t, spoil(`"tait": {`, `"taut": {`), "pvt.taut is not a known key: allowed tait, two_domain_tait")

	_, err = material.ReadPolymer(strings.NewReader(strings.Split(good, `"viscosity"`)[0] + `"viscosity": {}}`))
	assert.ErrorContains(t, err, `viscosity = "0 laws"`)
	_, err = material.ReadPolymer(strings.NewReader(""))
	assert.ErrorIs(t, err, material.ErrInvalid)
	_, err = material.ReadPolymer(strings.NewReader(strings.Repeat(" ", 1<<21)))
	assert.ErrorContains(t, err, "allowed up to 1048576 bytes")
	broken := errors.New("disk gone")
	_, err = material.ReadPolymer(iotest.ErrReader(broken))
	assert.ErrorIs(t, err, broken)
}

// own is a law that this package does not know.
type own struct{ material.Newtonian }

func TestWrittenTextStaysReadable(t *testing.T) {
	p := material.PP()
	p.Name = "PP < 5 % & clean"
	assert.Contains(t, written(t, p), `"name": "PP < 5 % & clean"`)
}

func TestWritePolymerRefuses(t *testing.T) {
	p := material.PP()
	p.Viscosity = own{material.Newtonian{Eta: 100}}
	p.Name = "\xff"
	p.Source = map[string]string{"\xfe": "x"}
	p.MeltDensity = 0
	err := p.Write(io.Discard)
	for _, line := range []string{
		`material.Polymer.Viscosity = "material_test.own": allowed a law a file can hold: newtonian, power_law, cross_wlf`,
		`material.Polymer.Name = "\xff": allowed text in UTF-8`, `material.Polymer.Source = "\xfe"`, "material.Polymer.MeltDensity = 0 kg/m³",
	} {
		assert.ErrorContains(t, err, line)
	}
	assert.ErrorIs(t, err, input.ErrInvalid)
}

func FuzzReadPolymer(f *testing.F) {
	for _, p := range material.Polymers() {
		var file bytes.Buffer
		require.NoError(f, p.Write(&file))
		f.Add(file.Bytes())
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		p, err := material.ReadPolymer(bytes.NewReader(data))
		if err != nil {
			require.ErrorIs(t, err, material.ErrInvalid)
			return
		}
		require.NoError(t, p.Validate())
		var file bytes.Buffer
		require.NoError(t, p.Write(&file))
		back, err := material.ReadPolymer(&file)
		require.NoError(t, err)
		require.Equal(t, p, back)
	})
}

func ExampleReadPolymer() {
	// Start from a known polymer's file, put in what you measured, read it back.
	var file strings.Builder
	if err := material.PLA().Write(&file); err != nil {
		fmt.Println(err)
		return
	}
	mine := strings.Replace(file.String(), "\n}", `,
  "viscosity": {"newtonian": {"viscosity_pa_s": 400}}
}`, 1)
	pla, err := material.ReadPolymer(strings.NewReader(mine))
	if err != nil {
		fmt.Println(err)
		return
	}
	eta, _, err := pla.ViscosityAt(50, material.Celsius(200), 0)
	fmt.Printf("%s: %.4g Pa·s %v\n", pla.Name, eta, err)
	// Output:
	// PLA: 400 Pa·s <nil>
}

func ExamplePolymer_Write() {
	p := material.Polymer{Name: "mine", Transition: 370, Softening: 355, ProcessLow: 480, ProcessHigh: 520,
		SolidDensity: 1050, SolidSpecificHeat: 1250, SolidConductivity: 0.16, MeltDensity: 970, MeltSpecificHeat: 2000, MeltConductivity: 0.15,
		Source: map[string]string{"SolidDensity": "weighed in water"}}
	if err := p.Write(os.Stdout); err != nil {
		fmt.Println(err)
	}
	// Output:
	// {
	//   "polymer": {
	//     "name": "mine",
	//     "crystalline": false,
	//     "transition_k": 370,
	//     "melting_low_k": 0,
	//     "melting_high_k": 0,
	//     "crystallinity": 0,
	//     "crystal_fusion_heat_j_per_kg": 0,
	//     "softening_k": 355,
	//     "process_low_k": 480,
	//     "process_high_k": 520,
	//     "drying": {
	//       "moisture": 0,
	//       "temperature_k": 0,
	//       "time_s": 0
	//     },
	//     "solid_density_kg_per_m3": 1050,
	//     "solid_specific_heat_j_per_kg_k": 1250,
	//     "solid_specific_heat_slope_j_per_kg_k2": 0,
	//     "solid_conductivity_w_per_m_k": 0.16,
	//     "melt_density_kg_per_m3": 970,
	//     "melt_specific_heat_j_per_kg_k": 2000,
	//     "melt_conductivity_w_per_m_k": 0.15,
	//     "source": {
	//       "SolidDensity": "weighed in water"
	//     }
	//   }
	// }
}
