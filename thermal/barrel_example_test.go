package thermal_test

import (
	"fmt"

	"meltflight/material"
	"meltflight/thermal"
)

// Is a band of 500 W enough for a barrel of 2.4 kg, lagged by 25 mm of wool?
func ExampleHeater() {
	air, hot := material.Celsius(22), material.Celsius(220)
	barrel := thermal.Lagged{Radius: 0.0225, Length: 0.3, Thickness: 0.025, Conductivity: 0.05, Emissivity: 0.9}
	loss, err := barrel.At(hot, air)
	if err != nil {
		fmt.Println(err)
		return
	}
	body := thermal.HeatUp{Capacity: 2.4 * 490, Conductance: loss.Conductance, Air: air}
	band := thermal.Heater{Kind: thermal.Band, Power: 500, Length: 0.12, Radius: 0.0225}
	s, err := band.For(body, air, hot, 15*60)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("outside %.0f °C, warm in %.1f min, on %.1f %% of the time\n", material.ToCelsius(loss.Surface), s.Time/60, 100*s.Duty)
	fmt.Printf("%.1f W/cm², safety %.2g\n", s.Density/1e4, s.Load.Safety())
	// Output:
	// outside 45 °C, warm in 7.9 min, on 4.4 % of the time
	// 2.9 W/cm², safety 1.4
}

// Do pellets stick in a throat 60 mm behind a barrel of 200 °C? By stainless steel alone, and in a water-cooled collar.
func ExampleSleeve() {
	neck := thermal.Sleeve{Outer: 0.014, Inner: 0.008, Length: 0.06, Conductivity: 16, Coefficient: 40}
	for _, collar := range []float64{0, 2} {
		s, err := neck.Cooled(material.Celsius(200), collar, material.Celsius(20), material.Celsius(25))
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("collar of %g W/K: throat %.0f °C, %.0f W in, %.1f W out\n", collar, material.ToCelsius(s.Cold), s.Hot, s.Throat)
	}
	// Output:
	// collar of 0 W/K: throat 108 °C, 24 W in, 0.0 W out
	// collar of 2 W/K: throat 27 °C, 30 W in, 14.0 W out
}
