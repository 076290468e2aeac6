package heat

import "math"

// bisect finds the least x between low and high from which past holds, to the last bit that matters.
func bisect(low, high float64, past func(float64) bool) float64 {
	for range halvings {
		mid := low + (high-low)/2
		if past(mid) {
			high = mid
		} else {
			low = mid
		}
	}
	return high
}

const halvings = 48

// crossing is bisect for where a function comes up to 0 once, near a guess: the same x to the bit, but only those halvings ask the function whose
// middle lies between two points close to the guess, one on either side.
func crossing(low, high, guess float64, f func(float64) float64) float64 {
	below, above := low, high
	ask := func(x float64) bool {
		past := f(x) >= 0
		if past {
			above = min(above, x)
		} else {
			below = max(below, x)
		}
		return past
	}
	if guess > low && guess < high {
		step := (high - low) / (1 << (halvings - 1))
		past := ask(guess)
		for x := guess; ; step *= 8 {
			if past {
				x = guess - step
			} else {
				x = guess + step
			}
			if !(x > low && x < high) || ask(x) != past {
				break
			}
		}
	}
	return bisect(low, high, func(x float64) bool {
		switch {
		case x >= above:
			return true
		case x <= below:
			return false
		}
		return ask(x)
	})
}

// meets is the surface temperature up to high at which the loss comes up to heat + more for each degree of it above the air. Loss goes nearly with
// a power of the difference, so that lines through two points are drawn in logarithms.
func (a *still) meets(high, heat, more float64) float64 {
	f := func(t float64) float64 { return a.loss(t) - (heat + more*(t-a.ta)) }
	over := func(dt float64) float64 { return math.Log(a.loss(a.ta+dt) / (heat + more*dt)) }
	const usual = 10.0 // W/m2K
	widest := high - a.ta
	dt := min(heat/(math.Pi*a.diameter*usual), widest)
	y, power := over(dt), 1.2
	for range 8 {
		by := -y / power
		dt = min(dt*math.Exp(by), widest)
		if math.Abs(by) <= 1e-7 || !(dt < widest) {
			break
		}
		z := over(dt)
		if p := (z - y) / by; p > 0.2 && p < 5 {
			power = p
		}
		y = z
	}
	if sheds := heat + more*dt; dt < widest { // once more, without logarithms: the guess is then as near as rounding lets it be
		dt -= (a.loss(a.ta+dt) - sheds) / sheds * dt / power
	}
	return crossing(a.ta, high, a.ta+dt, f)
}
