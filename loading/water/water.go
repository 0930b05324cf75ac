// Package water gives the density of fresh and sea water and of the metals
// floats are weighted with, and turns the mass of a metal into its pull under
// water and back.
//
// Densities are in g/cm3 (the same figure as kg/l), masses and pulls in grams,
// temperatures in degrees Celsius. The package knows no floats, no shot sizes
// and no law.
package water

import (
	"math"

	"floatmark/loading/fault"
)

// Water is the water a float was tested in or will be fished in.
type Water struct {
	TempC    float64 // temperature, 0 to 40 degrees Celsius (ITS-90)
	Salinity float64 // practical salinity (PSS-78, about g of salt per kg), 0 to 42; 0 is fresh
}

// The range in which both formulas below are published.
const (
	minTempC    = 0.0
	maxTempC    = 40.0
	maxSalinity = 42.0
)

// Usual is the water figures are given for when nothing else is said: fresh,
// 15 degrees Celsius. Common practice, no source; between 5 and 25 degrees the
// capacity of a float moves by 0.4 % only.
func Usual() Water { return Water{TempC: 15} }

// Check returns an Input error when the water lies outside 0 to 40 degrees
// Celsius or outside salinity 0 to 42, where the density formulas hold.
func (w Water) Check() error {
	if !(w.TempC >= minTempC && w.TempC <= maxTempC) {
		return fault.Inputf("give a temperature from 0 to 40 degrees Celsius", "water of %v degrees Celsius is outside the range of the density tables", w.TempC)
	}
	if !(w.Salinity >= 0 && w.Salinity <= maxSalinity) {
		return fault.Inputf("give 0 for fresh water, about 35 for the open sea, 42 at most", "salinity %v is outside the range of the density tables", w.Salinity)
	}
	return nil
}

// Density returns the density in g/cm3 at one atmosphere: fresh water by
// Tanaka and others 2001, water with salt by EOS-80. Pond and tap water depart
// from either by more than the two differ where they meet (under 0.000002 g/cm3).
// Outside the range of Check the result means nothing.
func (w Water) Density() float64 {
	if w.Salinity <= 0 {
		return tanaka(w.TempC) / kgPerCubicMetre
	}
	return eos80(w.TempC*its90ToIPTS68, w.Salinity) / kgPerCubicMetre
}

const (
	kgPerCubicMetre = 1000.0 // kg/m3 in one g/cm3, exact
	// its90ToIPTS68 turns ITS-90 temperatures into the IPTS-68 ones EOS-80 was
	// fitted on (the factor published with the conversion of EOS-80 to ITS-90).
	its90ToIPTS68 = 1.00024
)

// tanaka returns the density of air-free pure water in kg/m3, 0 to 40 degrees.
// Source: M. Tanaka, G. Girard, R. Davis, A. Peuto, N. Bignell, "Recommended
// table for the density of water between 0 C and 40 C based on recent
// experimental reports", Metrologia 38 (2001) 301-309 (the CIPM formula).
func tanaka(t float64) float64 {
	const (
		a1 = -3.983035
		a2 = 301.797
		a3 = 522528.9
		a4 = 69.34881
		a5 = 999.974950
	)
	d := t + a1
	return a5 * (1 - d*d*(t+a2)/(a3*(t+a4)))
}

// eos80 returns the density of sea water in kg/m3 at one atmosphere; t on
// IPTS-68, s in PSS-78. Source: UNESCO technical papers in marine science 44
// (1983), equations 13 and 14 (Millero and Poisson 1981).
func eos80(t, s float64) float64 {
	fresh := poly(t, 999.842594, 6.793952e-2, -9.095290e-3, 1.001685e-4, -1.120083e-6, 6.536332e-9)
	b := poly(t, 8.24493e-1, -4.0899e-3, 7.6438e-5, -8.2467e-7, 5.3875e-9)
	c := poly(t, -5.72466e-3, 1.0227e-4, -1.6546e-6)
	const d = 4.8314e-4
	return fresh + float64(b*s) + float64(c*s*math.Sqrt(s)) + float64(d*s*s)
}

// poly returns k[0] + k[1] t + k[2] t^2 ... without fused steps, so that every
// machine prints the same bytes.
func poly(t float64, k ...float64) float64 {
	sum := 0.0
	for i := len(k) - 1; i >= 0; i-- {
		sum = float64(sum*t) + k[i]
	}
	return sum
}
