package margin

import (
	"math"
)

const (
	exactly = 1e-5 // of a limit: a crossing is found when it is met to this
	sharply = 1e-5 // of where it is: a crossing that is nowhere near its limit within that is a jump
	steps   = 60   // of one search; each is one solution
)

// crossing is where a limit is crossed, or the end of what was tried.
type crossing struct {
	at     float64
	beyond bool
	stops  bool // a jump: no value meets the limit just so
	missed bool // it is broken to begin with
}

// cross finds the first crossing of a limit between nothing and an end, where over is how far it is broken as a share of itself; +Inf where
// it is not judged. It feels its way out, no step more than four times as far as the last, so that a limit which is met again far out is
// not lost; then it closes in by the rule of false position, and by halving where that is slow.
func cross(over func(x float64) float64, end float64) crossing {
	lo, low := 0.0, over(0)
	if low > 0 || math.IsNaN(low) {
		return crossing{missed: true}
	}
	hi, high := end/32, 0.0
	for {
		high = over(hi)
		if high > 0 || math.IsNaN(high) {
			break
		}
		if hi == end {
			return crossing{at: end, beyond: true}
		}
		far := 4.0
		if rise := high - low; rise > 0 { // a little past where a straight line would cross
			far = math.Min(far, math.Max(1.2, 1+1.1*(hi-lo)/hi*-high/rise))
		}
		lo, low, hi = hi, high, hi*far
		if math.Abs(hi) > 0.9*math.Abs(end) {
			hi = end
		}
	}
	// The two ends weigh less each time they stay (the Illinois rule).
	wl, wh := low, high
	side := 0
	for n := range steps {
		if -low <= exactly {
			return crossing{at: lo}
		}
		if high <= exactly {
			return crossing{at: hi}
		}
		width := hi - lo
		if part := math.Abs(width / hi); part <= 1e-12 || part <= sharply && high > 100*sharply {
			break
		}
		x := lo + width/2
		if !math.IsInf(high, 0) && !math.IsNaN(high) && n < 12 {
			if y := lo + width*(-wl)/(wh-wl); (y-lo)*(y-hi) < 0 {
				x = y
			}
		}
		y := over(x)
		if y > 0 || math.IsNaN(y) {
			hi, high, wh = x, y, y
			if side == 1 {
				wl /= 2
			}
			side = 1
		} else {
			lo, low, wl = x, y, y
			if side == -1 {
				wh /= 2
			}
			side = -1
		}
	}
	return crossing{at: lo, stops: true}
}
