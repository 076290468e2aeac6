package unit

import (
	"math"
	"strconv"
)

// Number prints x with at most the given count of decimals, trailing zeros dropped and no negative zero. It is the one place
// where a number is rounded for paper. What lies half way between two is told from its nine digits, so that the paper says what is written for
// other programs and a last digit of the sum decides nothing.
func Number(x float64, decimals int) string {
	s := strconv.FormatFloat(half(x, decimals), 'f', decimals, 64)
	if decimals > 0 {
		for s[len(s)-1] == '0' {
			s = s[:len(s)-1]
		}
		if s[len(s)-1] == '.' {
			s = s[:len(s)-1]
		}
	}
	if s == "-0" {
		return "0"
	}
	return s
}

// Fixed prints x with exactly the given count of decimals and no negative zero.
func Fixed(x float64, decimals int) string {
	s := strconv.FormatFloat(half(x, decimals), 'f', decimals, 64)
	if v, err := strconv.ParseFloat(s, 64); err == nil && v == 0 && s[0] == '-' {
		return s[1:]
	}
	return s
}

// half is x, Rounded where it is within that of half way between two numbers of so many decimals and those have no more digits.
func half(x float64, decimals int) float64 {
	y := math.Abs(x) * math.Pow10(decimals)
	if y < 1e8 && math.Abs(y-math.Floor(y)-0.5) <= 10*Alike*y {
		return Rounded(x)
	}
	return x
}

func (l Length) String() string  { return Number(float64(l), 1) + " mm" }
func (a Area) String() string    { return Number(float64(a), 3) + " mm2" }
func (i Current) String() string { return Number(float64(i), 3) + " A" }
func (v Voltage) String() string { return Number(float64(v), 3) + " V" }
func (p Power) String() string   { return Number(float64(p), 2) + " W" }
func (t Time) String() string {
	if t >= 3600 {
		return Number(float64(t)/3600, 2) + " h"
	}
	return Number(float64(t), 3) + " s"
}
func (t Temperature) String() string  { return Number(float64(t), 1) + " C" }
func (t TempDiff) String() string     { return Number(float64(t), 1) + " K" }
func (r Ratio) String() string        { return Number(float64(r)*100, 2) + " %" }
func (f Force) String() string        { return Number(float64(f), 1) + " N" }
func (m Mass) String() string         { return Number(float64(m), 3) + " kg" }
func (t Torque) String() string       { return Number(float64(t), 1) + " Nm" }
func (a Angle) String() string        { return Number(float64(a), 1) + " deg" }
func (c Charge) String() string       { return Number(float64(c), 2) + " Ah" }
func (c Conductivity) String() string { return Number(float64(c), 3) + " W/mK" }

// String prints milliohms below one ohm.
func (r Resistance) String() string {
	if math.Abs(float64(r)) < 1 {
		return Number(float64(r)*1000, 3) + " mohm"
	}
	return Number(float64(r), 3) + " ohm"
}

// String prints milliohms per metre.
func (r LinearResistance) String() string { return Number(float64(r)*1000, 4) + " mohm/m" }
