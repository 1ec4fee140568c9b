package material

import (
	"encoding/json"
	"fmt"
	"io"
	"reflect"
	"strings"
	"unicode/utf8"

	"meltflight/internal/input"
	"meltflight/internal/strictjson"
)

// polymerFile is a polymer as a file holds it: its numbers, and apart from them the
// laws, each under the name of its kind. Keys carry SI units, so that a number comes
// back to the last bit.
type polymerFile struct {
	Polymer   Polymer      `json:"polymer"`
	Viscosity *viscosities `json:"viscosity,omitempty"`
	Shift     *shifts      `json:"shift,omitempty"` // of the law of viscosity
	PVT       *pvts        `json:"pvt,omitempty"`
}

// viscosities holds one law of viscosity. A new law is one more line here.
type viscosities struct {
	Newtonian *Newtonian `json:"newtonian,omitempty"`
	PowerLaw  *PowerLaw  `json:"power_law,omitempty"`
	CrossWLF  *CrossWLF  `json:"cross_wlf,omitempty"`

	CarreauYasuda    *CarreauYasuda    `json:"carreau_yasuda,omitempty"`
	CrossExponential *CrossExponential `json:"cross_exponential,omitempty"`
}

// shifts holds one law of temperature.
type shifts struct {
	Arrhenius *Arrhenius `json:"arrhenius,omitempty"`
	WLF       *WLF       `json:"wlf,omitempty"`
}

// pvts holds one law of specific volume. A new law is one more line here.
type pvts struct {
	Tait          *Tait          `json:"tait,omitempty"`
	TwoDomainTait *TwoDomainTait `json:"two_domain_tait,omitempty"`
}

// mostFile is far more than any polymer takes [bytes].
const mostFile = 1 << 20

// ReadPolymer reads a polymer from JSON as [Polymer.Write] writes it: an object
// "polymer" with every number, and if it has them an object "viscosity" and an object
// "pvt", each holding one law under the name of its kind,
//
//	"viscosity": {"power_law": {"consistency_pa_s_n": 4350, "index": 0.41, …}}
//	"pvt": {"tait": {…}}
//
// viscosity one of newtonian, power_law, cross_wlf, carreau_yasuda and
// cross_exponential; pvt one of tait, two_domain_tait. An object "shift" gives the
// temperature law of a power_law or carreau_yasuda: one of arrhenius, wlf.
// Keys carry their unit. Every key must be there, once, and no other; an error
// (errors.Is ErrInvalid) names all that are wrong, and if none is, all values out
// of range. The "source" of each number travels along.
func ReadPolymer(r io.Reader) (Polymer, error) {
	data, err := io.ReadAll(io.LimitReader(r, mostFile+1))
	if err != nil {
		return Polymer{}, fmt.Errorf("material.ReadPolymer: %w", err)
	}
	var f input.Faults
	if len(data) > mostFile {
		f.Refuse("material.ReadPolymer: file", float64(len(data)), "bytes", fmt.Sprintf("up to %d bytes", mostFile))
		return Polymer{}, f.Err()
	}
	var file polymerFile
	if err := strictjson.Decode(data, &file); err != nil {
		return Polymer{}, err
	}
	p := file.Polymer
	if len(p.Source) == 0 {
		p.Source = nil
	}
	p.Viscosity, _ = take(&f, "viscosity", file.Viscosity).(Viscosity)
	if shift, ok := take(&f, "shift", file.Shift).(Shift); ok {
		p.Viscosity = shifted(&f, p.Viscosity, shift)
	}
	p.PVT, _ = take(&f, "pvt", file.PVT).(PVT)
	f.Add(p.Validate())
	if err := f.Err(); err != nil {
		return Polymer{}, err
	}
	return p, nil
}

// Write writes the polymer as JSON that [ReadPolymer] reads back to the last bit. It
// errs on an invalid polymer, on a law that is not of this package, on text that is
// not UTF-8, and where w does.
func (p Polymer) Write(w io.Writer) error {
	var f input.Faults
	f.Add(p.Validate())
	checkText(&f, "Name", p.Name)
	for field, source := range p.Source {
		checkText(&f, "Source", field)
		checkText(&f, "Source", source)
	}
	file := polymerFile{Polymer: p}
	if p.Source == nil {
		file.Polymer.Source = map[string]string{} // the key must be there
	}
	if p.Viscosity != nil {
		file.Viscosity = new(viscosities)
		put(&f, "material.Polymer.Viscosity", file.Viscosity, p.Viscosity)
	}
	if shift := shiftOf(p.Viscosity); shift != nil {
		file.Shift = new(shifts)
		put(&f, "material.Polymer.Viscosity: Shift", file.Shift, shift)
	}
	if p.PVT != nil {
		file.PVT = new(pvts)
		put(&f, "material.Polymer.PVT", file.PVT, p.PVT)
	}
	if err := f.Err(); err != nil {
		return err
	}
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(file)
}

// shiftOf returns the temperature law that a file keeps beside a law of viscosity.
func shiftOf(v Viscosity) Shift {
	switch v := v.(type) {
	case PowerLaw:
		return v.Shift
	case CarreauYasuda:
		return v.Shift
	}
	return nil
}

// shifted returns a law with the temperature law that stood beside it.
func shifted(f *input.Faults, v Viscosity, shift Shift) Viscosity {
	switch v := v.(type) {
	case PowerLaw:
		v.Shift = shift
		return v
	case CarreauYasuda:
		v.Shift = shift
		return v
	}
	f.Add(&input.Word{Name: "shift", Value: fmt.Sprintf("%T", v), Allowed: "beside power_law or carreau_yasuda only"})
	return v
}

func checkText(f *input.Faults, field, text string) {
	if !utf8.ValidString(text) {
		f.Add(&input.Word{Name: "material.Polymer." + field, Value: text, Allowed: "text in UTF-8"})
	}
}

// take returns the one law that a struct of pointers to laws holds, nil of a nil
// struct, and refuses any other number of laws.
func take(f *input.Faults, key string, laws any) any {
	if reflect.ValueOf(laws).IsNil() {
		return nil
	}
	var found []any
	s := reflect.ValueOf(laws).Elem()
	for i := range s.NumField() {
		if !s.Field(i).IsNil() {
			found = append(found, s.Field(i).Elem().Interface())
		}
	}
	if len(found) != 1 {
		f.Add(&input.Word{Name: key, Value: fmt.Sprintf("%d laws", len(found)), Allowed: "one of " + lawNames(s.Type())})
		return nil
	}
	return found[0]
}

// put sets the pointer of a law's type in a struct of pointers to laws.
func put(f *input.Faults, name string, laws, law any) {
	s := reflect.ValueOf(laws).Elem()
	for i := range s.NumField() {
		if s.Field(i).Type().Elem() == reflect.TypeOf(law) {
			s.Field(i).Set(reflect.New(reflect.TypeOf(law)))
			s.Field(i).Elem().Set(reflect.ValueOf(law))
			return
		}
	}
	f.Add(&input.Word{Name: name, Value: fmt.Sprintf("%T", law), Allowed: "a law a file can hold: " + lawNames(s.Type())})
}

func lawNames(laws reflect.Type) string {
	var names []string
	for i := range laws.NumField() {
		name, _, _ := strings.Cut(laws.Field(i).Tag.Get("json"), ",")
		names = append(names, name)
	}
	return strings.Join(names, ", ")
}
