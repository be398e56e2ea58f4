package retention

import "math"

// sure is how sure the intervals are: 95 of 100 hold the share that they are about.
const sure = 0.95

// Wilson is the interval in which a share lies of which kept of n were seen: the score interval without a correction for
// continuity (Wilson 1927, J Am Stat Assoc 22:209-212), whose ends are the roots of (kept/n - x)² = z² x (1-x)/n. z is how many
// standard errors it reaches; see z95. It stays within 0 and 1. Where none were seen it is all of that.
func Wilson(kept, n int, z float64) (low, high float64) {
	if n <= 0 {
		return 0, 1
	}
	k, of, z2 := float64(kept), float64(n), z*z
	middle := (2*k + z2) / (2 * (of + z2))
	reach := z * math.Sqrt(z2+4*k*(1-k/of)) / (2 * (of + z2))
	low, high = max(0, middle-reach), min(1, middle+reach)
	if kept <= 0 { // exactly, whatever the last digit of the sum is
		low = 0
	}
	if kept >= n {
		high = 1
	}
	return low, high
}

// Newcombe is the interval in which the difference of two shares lies, the first less the second: the hybrid of the two score
// intervals (Newcombe 1998, Statistics in Medicine 17:873-890, method 10). It stays within -1 and 1.
func Newcombe(keptA, a, keptB, b int, z float64) (low, high float64) {
	if a <= 0 || b <= 0 {
		return -1, 1
	}
	p, q := float64(keptA)/float64(a), float64(keptB)/float64(b)
	lowP, highP := Wilson(keptA, a, z)
	lowQ, highQ := Wilson(keptB, b, z)
	return p - q - math.Hypot(p-lowP, highQ-q), p - q + math.Hypot(highP-p, q-lowQ)
}

// reachOf is how many standard errors an interval reaches to either side that is wrong once in 1/wrong times.
func reachOf(wrong float64) float64 { return math.Sqrt2 * math.Erfinv(1-wrong) }

// z95 is the reach of an interval for a share alone.
var z95 = reachOf(1 - sure)
