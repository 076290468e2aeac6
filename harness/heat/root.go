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
		under, over := cell(low, high, guess)
		past, short := over == high || ask(over), under == low || !ask(under)
		if past && short { // as it mostly is
			return over
		}
		step := (high - low) / (1 << (halvings - 1))
		for x := guess; step > 0; step *= 8 {
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

// cell is where bisect ends that looks for a guess, and the greatest below of what it came by. Between bounds of whole sixteenths of a degree, as those of air and
// wire mostly are, the first halvings meet no rounding, and are done in one go.
func cell(low, high, guess float64) (under, over float64) {
	left := halvings
	if sixteenths(low) && sixteenths(high) {
		const quick = 38
		width := (high - low) / (1 << quick)
		n := math.Floor((guess - low) / width)
		if low+n*width > guess {
			n--
		} else if low+(n+1)*width <= guess {
			n++
		}
		low, high, left = low+n*width, low+(n+1)*width, halvings-quick
	}
	for range left {
		if mid := low + (high-low)/2; mid > guess {
			high = mid
		} else {
			low = mid
		}
	}
	return low, high
}

// sixteenths tells whether a temperature is a whole number of them, and so small that twice as much has room for 38 bits more behind them.
func sixteenths(t float64) bool { return math.Abs(t) < 512 && t*16 == math.Trunc(t*16) }

// meets is the surface temperature up to high at which the loss comes up to heat + more for each degree of it above the air. Loss goes nearly with
// a power of the difference, so that lines through two points are drawn in logarithms.
func (a *still) meets(high, heat, more float64) float64 {
	f := func(t float64) float64 { return a.loss(t) - (heat + more*(t-a.ta)) }
	over := func(dt float64) float64 { return nearLog(a.loss(a.ta+dt) / (heat + more*dt)) }
	const usual = 14.0 // W/m2K
	widest := high - a.ta
	dt := heat / (math.Pi*a.diameter*usual - more)
	if !(dt > 0 && dt < widest) {
		dt = widest
	}
	y, power := over(dt), 1.2-more*dt/(heat+more*dt)
	for range 8 {
		by := -y / power
		dt = min(dt*nearExp(by), widest)
		if math.Abs(by) <= 1e-5 || !(dt < widest) {
			break
		}
		z := over(dt)
		if p := (z - y) / by; p > 0.2 && p < 1000 {
			power = p
		}
		y = z
	}
	if sheds := heat + more*dt; dt < widest { // once more, without logarithms: the guess is then as near as rounding lets it be
		dt -= (a.loss(a.ta+dt) - sheds) / sheds * dt / power
	}
	return crossing(a.ta, high, a.ta+dt, f)
}

// nearLog and nearExp are the logarithm and its inverse as near as a guess needs them: the nearer to 1 and 0 the better.
func nearLog(x float64) float64 {
	if !(x > 0.5 && x < 2) {
		return math.Log(x)
	}
	z := (x - 1) / (x + 1)
	y := z * z
	return 2 * z * (1 + y*(1.0/3+y*(1.0/5+y/7)))
}

func nearExp(x float64) float64 {
	if !(math.Abs(x) < 0.5) {
		return math.Exp(x)
	}
	even := 1 + x*x/12
	return (even + x/2) / (even - x/2)
}
