package retention

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
)

// fewer is how many of something are tried: all, or with -short some.
func fewer(all, some int) int {
	if testing.Short() {
		return some
	}
	return all
}

// The score intervals without correction for continuity in Newcombe 1998, Statistics in Medicine 17:857-872, table I;
// from memory.
func TestWilsonPublished(t *testing.T) {
	for _, c := range []struct {
		kept, n   int
		low, high float64
	}{{81, 263, 0.2553, 0.3662}, {15, 148, 0.0624, 0.1605}, {0, 20, 0, 0.1611}, {1, 29, 0.0061, 0.1718}} {
		low, high := Wilson(c.kept, c.n, z95)
		if math.Abs(low-c.low) > 0.00005 || math.Abs(high-c.high) > 0.00005 {
			t.Errorf("%d of %d: %.4f to %.4f, published %.4f to %.4f", c.kept, c.n, low, high, c.low, c.high)
		}
	}
}

// The hybrid score intervals in Newcombe 1998, Statistics in Medicine 17:873-890, table II, method 10; from memory.
func TestNewcombePublished(t *testing.T) {
	for _, c := range []struct {
		keptA, a, keptB, b int
		low, high          float64
	}{
		{56, 70, 48, 80, 0.0524, 0.3339},
		{9, 10, 3, 10, 0.1705, 0.8090},
		{6, 7, 2, 7, 0.0582, 0.8062},
		{5, 56, 0, 29, -0.0381, 0.1926},
		{0, 10, 0, 20, -0.1611, 0.2775},
		{0, 10, 0, 10, -0.2775, 0.2775},
		{10, 10, 0, 20, 0.6791, 1},
		{10, 10, 0, 10, 0.6075, 1},
	} {
		low, high := Newcombe(c.keptA, c.a, c.keptB, c.b, z95)
		if math.Abs(low-c.low) > 0.00005 || math.Abs(high-c.high) > 0.00005 {
			t.Errorf("%d/%d less %d/%d: %.4f to %.4f, published %.4f to %.4f", c.keptA, c.a, c.keptB, c.b, low, high, c.low, c.high)
		}
	}
}

// The ends are where the test of a share would just refuse what was seen: the roots of (p-x)² = z² x(1-x)/n, found by
// halving.
func TestWilsonSolvesTheScoreEquation(t *testing.T) {
	root := func(p, n, z, from, to float64) float64 { // refused at from, not at to
		for range 200 {
			x := (from + to) / 2
			if (p-x)*(p-x) > z*z*x*(1-x)/n {
				from = x
			} else {
				to = x
			}
		}
		return (from + to) / 2
	}
	for _, z := range []float64{1, z95, 3.2} {
		for n := 1; n <= 200; n += 1 + n/10 {
			for kept := 0; kept <= n; kept += 1 + n/20 {
				p := float64(kept) / float64(n)
				low, high := Wilson(kept, n, z)
				wantLow, wantHigh := 0.0, 1.0
				if kept > 0 {
					wantLow = root(p, float64(n), z, 0, p)
				}
				if kept < n {
					wantHigh = root(p, float64(n), z, 1, p)
				}
				if math.Abs(low-wantLow) > 1e-12 || math.Abs(high-wantHigh) > 1e-12 {
					t.Fatalf("%d of %d, z %g: %v to %v, by halving %v to %v", kept, n, z, low, high, wantLow, wantHigh)
				}
			}
		}
	}
}

// How often the interval holds the true share, by exact sums over gonum's binomial distribution. A score interval of 95 % does so
// 95 times of 100 on average over all shares, not for each of them (Agresti and Coull 1998, Am Stat 52:119-126).
func TestWilsonCoverage(t *testing.T) {
	for _, n := range []int{5, 10, 20, 50, 120, 300} {
		sum, worst, steps := 0.0, 1.0, 400
		for i := range steps {
			p := (float64(i) + 0.5) / float64(steps)
			d := distuv.Binomial{N: float64(n), P: p}
			held := 0.0
			for kept := range n + 1 {
				if low, high := Wilson(kept, n, z95); low <= p && p <= high {
					held += d.Prob(float64(kept))
				}
			}
			sum, worst = sum+held, min(worst, held)
		}
		if mean := sum / float64(steps); math.Abs(mean-sure) > 0.007 || worst < 0.83 {
			t.Errorf("n = %d: holds the share %.4f of the time, at worst %.4f", n, mean, worst)
		}
	}
}

// The same for the difference of two shares, over both distributions.
func TestNewcombeCoverage(t *testing.T) {
	for _, n := range [][2]int{{10, 20}, {25, 40}, {12, 100}} {
		sum, tried := 0.0, 0
		a, b := distuv.Binomial{N: float64(n[0])}, distuv.Binomial{N: float64(n[1])}
		for a.P = 0.04; a.P < 1; a.P += 0.13 {
			for b.P = 0.07; b.P < 1; b.P += 0.11 {
				held := 0.0
				for i := range n[0] + 1 {
					for k := range n[1] + 1 {
						if low, high := Newcombe(i, n[0], k, n[1], z95); low <= a.P-b.P && a.P-b.P <= high {
							held += a.Prob(float64(i)) * b.Prob(float64(k))
						}
					}
				}
				sum, tried = sum+held, tried+1
			}
		}
		if mean := sum / float64(tried); mean < 0.94 || mean > 0.97 {
			t.Errorf("%d and %d: holds the difference %.4f of the time", n[0], n[1], mean)
		}
	}
}

func TestReach(t *testing.T) {
	normal := distuv.UnitNormal
	for _, wrong := range []float64{0.5, 0.1, 0.05, 0.05 / 2, 0.05 / 30, 1e-6} {
		if got, want := reachOf(wrong), normal.Quantile(1-wrong/2); math.Abs(got-want) > 1e-9 {
			t.Errorf("wrong %g of the time: %v standard errors, gonum has %v", wrong, got, want)
		}
	}
}

// What every interval keeps to: the share is in it, seen from the other end it is the same, more bonds make it narrower, and
// without a bond it says nothing.
func TestIntervalsHoldTogether(t *testing.T) {
	for n := 1; n < 80; n++ {
		for kept := 0; kept <= n; kept++ {
			p := float64(kept) / float64(n)
			low, high := Wilson(kept, n, z95)
			if !(0 <= low && low <= p && p <= high && high <= 1) {
				t.Fatalf("%d of %d: %v to %v", kept, n, low, high)
			}
			fromTop, fromBottom := Wilson(n-kept, n, z95)
			if math.Abs(1-low-fromBottom) > 1e-12 || math.Abs(1-high-fromTop) > 1e-12 {
				t.Fatalf("%d of %d and %d of %d are not the same seen from the other end", kept, n, n-kept, n)
			}
			if l, h := Wilson(2*kept, 2*n, z95); h-l >= high-low {
				t.Fatalf("%d of %d is no surer than %d of %d", 2*kept, 2*n, kept, n)
			}
			if l, h := Newcombe(kept, n, kept, n, z95); math.Abs(l+h) > 1e-12 || l < -1 || h > 1 {
				t.Fatalf("%d of %d less itself: %v to %v", kept, n, l, h)
			}
		}
	}
	if low, high := Wilson(0, 0, z95); low != 0 || high != 1 {
		t.Errorf("none of none: %v to %v", low, high)
	}
	if low, high := Newcombe(0, 0, 3, 4, z95); low != -1 || high != 1 {
		t.Errorf("none of none less 3 of 4: %v to %v", low, high)
	}
}
