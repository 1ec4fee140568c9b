package material_test

import (
	"math"
	"reflect"
	"testing"

	"github.com/stretchr/testify/assert"

	"meltflight/material"
)

// refusesEvery puts what no plastic can have into each number of a thing that can be
// validated, and wants an error that names the number.
func refusesEvery(t *testing.T, thing any) {
	s := reflect.New(reflect.TypeOf(thing)).Elem()
	s.Set(reflect.ValueOf(thing))
	var walk func(v reflect.Value)
	walk = func(v reflect.Value) {
		for i := range v.NumField() {
			name := v.Type().Field(i).Name
			switch field := v.Field(i); field.Kind() {
			case reflect.Struct:
				walk(field)
			case reflect.Float64:
				old := field.Float()
				for _, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), -1e300, 1e300} {
					field.SetFloat(bad)
					err := s.Interface().(interface{ Validate() error }).Validate()
					assert.ErrorIs(t, err, material.ErrInvalid, "%s = %g", name, bad)
					assert.ErrorContains(t, err, "."+name+" = ", "%g", bad)
				}
				field.SetFloat(old)
			}
		}
	}
	walk(s)
}

func TestEveryBadNumberIsNamed(t *testing.T) {
	for _, p := range []material.Polymer{material.PP(), material.PA6()} {
		refusesEvery(t, p)
	}
	tait, err := material.TaitNamed("pp")
	assert.NoError(t, err)
	refusesEvery(t, tait)
	two := material.PMMATwoDomain()
	two.B7, two.B8, two.B9 = 5e-5, 0.1, 2e-8
	refusesEvery(t, two)
	// Which side is at fault is told.
	two.Solid.B1 = 0
	assert.EqualError(t, two.Validate(), "material.TwoDomainTait.Solid.B1 = 0 m³/kg: allowed 0.0001 to 0.01 m³/kg")
}
