package screw_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"meltflight/material"
	"meltflight/screw"
)

func TestMeltOfAPolymerWithoutViscosity(t *testing.T) {
	_, err := screw.MeltOf(material.PLA(), material.Celsius(200))
	assert.ErrorIs(t, err, material.ErrNoData)
	assert.NotErrorIs(t, err, material.ErrInvalid)
	assert.EqualError(t, err, "screw.MeltOf: no data: PLA has no published law of viscosity; give it one of your own")
	pla := material.PLA()
	pla.Viscosity = material.Newtonian{Eta: 400}
	_, err = screw.MeltOf(pla, material.Celsius(200))
	assert.NoError(t, err)
}

func TestMeltConductivityMayBeUnknown(t *testing.T) {
	pp, err := screw.MeltOf(material.PP(), material.Celsius(215))
	assert.NoError(t, err)
	assert.Equal(t, material.PP().MeltConductivity, pp.Conductivity)
	pp.Conductivity = 0
	assert.NoError(t, pp.Validate())
	pp.Conductivity = -0.2
	assert.ErrorContains(t, pp.Validate(), "screw.Melt.Conductivity = -0.2 W/(m·K): allowed 0.01 to 100 W/(m·K)")
}
