package drive_test

import (
	"fmt"

	"gonum.org/v1/gonum/unit"

	"meltflight/drive"
)

// A screw of 16 mm starts against a cold die, runs and idles. Does a thrust ball bearing
// behind it last 5000 hours, and what is left of its life in a grease of 110 mm²/s and dust?
func ExampleMeanBearingLoad() {
	start, err := drive.HeadThrust(30*unit.Mega, 16*unit.Milli)
	if err != nil {
		fmt.Println(err)
		return
	}
	run := start * 20 / 30 // 20 MPa
	mean, err := drive.MeanBearingLoad([]drive.BearingBlock{
		{From: start, To: run, Speed: 0.5, Time: 0.1},
		{From: run, To: run, Speed: 1, Time: 0.7},
		{From: run, To: run / 10, Time: 0.2},
	}, drive.Ball)
	if err != nil {
		fmt.Println(err)
		return
	}
	bearing := drive.Bearing{Dynamic: 14 * unit.Kilo, Static: 24 * unit.Kilo, Exponent: drive.Ball}
	load := drive.EquivalentLoad{Dynamic: mean.Load, Static: mean.Most}
	rating, err := load.Utilisations(bearing, mean.Speed, 0.9, 5000*3600)
	if err != nil {
		fmt.Println(err)
		return
	}
	needed, err := drive.ReferenceViscosity(30*unit.Milli, mean.Speed)
	if err != nil {
		fmt.Println(err)
		return
	}
	film := drive.BearingFilm{Kind: drive.ThrustBall, ViscosityRatio: 110e-6 / needed, Cleanliness: 0.3, FatigueLimit: 900}
	life, err := bearing.ModifiedLife(mean.Load, mean.Speed, 0.9, film)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f N at %.0f rpm, %.0f N at most\n", mean.Load, mean.Speed*60, mean.Most)
	for _, u := range rating {
		fmt.Printf("%-20s %.3g\n", u.Part, u.Safety())
	}
	fmt.Printf("κ %.2g leaves %.2g h\n", film.ViscosityRatio, life.Seconds/3600)
	// Output:
	// 4111 N at 45 rpm, 6032 N at most
	// bearing life         1.43
	// bearing static load  3.98
	// κ 0.32 leaves 2.6e+03 h
}

// Which deep groove bearing takes the thrust and the pull of a belt together?
func ExampleDeepGrooveLoad() {
	load, err := drive.DeepGrooveLoad(600, 1500, 6.8*unit.Kilo, 13)
	if err != nil {
		fmt.Println(err)
		return
	}
	c, err := drive.RequiredRating(load.Dynamic, 2, 0.95, 2000*3600, drive.Ball)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("P = %.2f·Fr + %.2f·Fa = %.0f N, P₀ = %.0f N\n", load.Radial, load.Axial, load.Dynamic, load.Static)
	fmt.Printf("C for 2000 h in 95 of 100: %.3g kN\n", c/1e3)
	// Output:
	// P = 0.56·Fr + 1.22·Fa = 2162 N, P₀ = 1110 N
	// C for 2000 h in 95 of 100: 6.11 kN
}
