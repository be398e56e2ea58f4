package lesson

import (
	"encoding/csv"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
)

// parallel is the parallel of a spheroid at a geodetic latitude, in radians, as a line with its middle at longitude 0.
type parallel struct{ equator, toPole, lat float64 }

// primeVertical is the radius of curvature across the meridian, by the textbook.
func primeVertical(equator, toPole, lat float64) float64 {
	e2 := 1 - toPole*toPole/(equator*equator)
	return equator / math.Sqrt(1-e2*math.Sin(lat)*math.Sin(lat))
}

// geodeticPoint is the point of a spheroid at a latitude and longitude, in radians.
func geodeticPoint(equator, toPole, lat, lon float64) scalp.Vec {
	n := primeVertical(equator, toPole, lat)
	return scalp.Vec{
		X: n * math.Cos(lat) * math.Cos(lon), Y: n * math.Cos(lat) * math.Sin(lon),
		Z: n * toPole * toPole / (equator * equator) * math.Sin(lat),
	}
}

func (p parallel) radius() float64 {
	return primeVertical(p.equator, p.toPole, p.lat) * math.Cos(p.lat)
}

func (p parallel) Point(along scalp.MM) scalp.Vec {
	return geodeticPoint(p.equator, p.toPole, p.lat, float64(along)/p.radius())
}

// meridian is the length of the meridian between two latitudes, by Simpson's rule over its radius of curvature.
func meridian(equator, toPole, from, to float64) float64 {
	e2 := 1 - toPole*toPole/(equator*equator)
	radius := func(lat float64) float64 {
		return equator * (1 - e2) / math.Pow(1-e2*math.Sin(lat)*math.Sin(lat), 1.5)
	}
	const n = 200
	h := (to - from) / n
	sum := radius(from) + radius(to)
	for i := 1; i < n; i++ {
		sum += radius(from+h*float64(i)) * float64(2+2*(i%2))
	}
	return sum * h / 3
}

// spheroidCourse is a parallel to measure from, and the surface that it is on.
func spheroidCourse(equator, toPole, lat float64) course {
	s := scalp.Spheroid(scalp.MM(equator), scalp.MM(toPole))
	return course{surface: &s, line: parallel{equator, toPole, lat}, across: scalp.Vec{Z: 1}}
}

func degrees(d float64) float64 { return d * math.Pi / 180 }

// apart is the straight distance between two points.
func apart(p, q scalp.Vec) float64 { return p.Minus(q).Length() }

// On a spheroid the shortest path straight away from a parallel is the meridian. Points: GeographicLib's GeodSolve, see
// testdata/geodesic/README.md; the lengths of parallels and meridians by the textbook.
func TestPlaceOnSpheroids(t *testing.T) {
	for _, e := range []struct {
		file            string
		equator, toPole float64
	}{{"prolate.csv", 80, 95}, {"oblate.csv", 95, 80.75}} {
		n := 0
		for _, v := range geodesicVectors(t, e.file) {
			lat, lon, lat2, lon2 := degrees(v[0]), degrees(v[1]), degrees(v[2]), degrees(v[3])
			turn := math.Remainder(lon2-lon, 2*math.Pi)
			if math.Abs(lat) > 1.2 || math.Abs(lat2) > 1.2 || v[5] > 60 {
				continue // parallels near a pole, and places farther than anything is entered
			}
			n++
			c := spheroidCourse(e.equator, e.toPole, lat)
			wantAlong := turn * c.line.(parallel).radius()
			wantAside := meridian(e.equator, e.toPole, lat, lat2)
			q := geodeticPoint(e.equator, e.toPole, lat2, turn)
			if p, _ := c.at(scalp.MM(wantAlong), scalp.MM(wantAside)); apart(p, q) > 1e-3 {
				t.Errorf("%s: %v: %.4f along and %.4f aside end %.5f mm from %v", e.file, v, wantAlong, wantAside, apart(p, q), q)
			}
			along, aside := c.of(q, 0)
			if math.Abs(float64(along)-wantAlong) > 2e-3 || math.Abs(float64(aside)-wantAside) > 2e-3 {
				t.Errorf("%s: %v: lies %.4f along and %.4f aside, want %.4f and %.4f", e.file, v, float64(along), float64(aside), wantAlong, wantAside)
			}
			if d := float64(c.surface.Distance(c.line.Point(0), q)); math.Abs(d-v[5]) > 0.002 {
				t.Errorf("%s: %v: %.4f mm", e.file, v, d)
			}
		}
		if n < 40 {
			t.Errorf("%s: only %d vectors serve", e.file, n)
		}
	}
}

// geodesicVectors are the rows of a file of testdata/geodesic.
func geodesicVectors(t *testing.T, file string) [][]float64 {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "..", "testdata", "geodesic", file))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var all [][]float64
	for _, row := range rows[1:] {
		v := make([]float64, len(row))
		for i := range v {
			if v[i], err = strconv.ParseFloat(row[i], 64); err != nil {
				t.Fatal(err)
			}
		}
		all = append(all, v)
	}
	return all
}

// On a sphere all is known in closed form.
func TestPlaceOnASphere(t *testing.T) {
	const radius = 90.0
	rng := fitSeeded(3)
	for range fitFewer(400, 100) {
		lat := 2*rng.Float64() - 1
		c := spheroidCourse(radius, radius, lat)
		along, aside := 80*rng.Float64()-40, 60*rng.Float64()-30
		got, _ := c.at(scalp.MM(along), scalp.MM(aside))
		lat2, lon2 := lat+aside/radius, along/(radius*math.Cos(lat))
		want := scalp.Vec{X: radius * math.Cos(lat2) * math.Cos(lon2), Y: radius * math.Cos(lat2) * math.Sin(lon2), Z: radius * math.Sin(lat2)}
		if apart(got, want) > 1e-4 {
			t.Errorf("latitude %g, %g along, %g aside: %v, want %v", lat, along, aside, got, want)
		}
		haversine := math.Pow(math.Sin((lat2-lat)/2), 2) + math.Cos(lat)*math.Cos(lat2)*math.Pow(math.Sin(lon2/2), 2)
		if d := float64(c.surface.Distance(c.line.Point(0), got)); math.Abs(d-2*radius*math.Asin(math.Sqrt(haversine))) > 1e-3 {
			t.Errorf("latitude %g, %g along, %g aside: %g mm away", lat, along, aside, d)
		}
	}
}

// fitHead is one of the sizes with tapes a little otherwise.
func fitHead(t testing.TB, rng *rand.Rand) *scalp.Head {
	t.Helper()
	for range 100 {
		m := scalp.Sizes[rng.IntN(len(scalp.Sizes))].Measures
		m.Circumference += scalp.MM(rng.IntN(21) - 10)
		m.EarToEar += scalp.MM(rng.IntN(15) - 7)
		m.FrontToNape += scalp.MM(rng.IntN(15) - 7)
		if h, err := scalp.Fit(m); err == nil {
			return h
		}
	}
	t.Fatal("no head can be fitted")
	return nil
}

// fitPlaces are rows of every kind of line, low and high, in the middle and beside it.
var fitPlaces = []sheet.Place{
	{At: 20}, {At: 60}, {At: 110}, {At: 150}, {At: 200}, {At: 240}, {At: 290},
	{Along: true}, {Along: true, At: 24}, {Along: true, At: -40},
}

// On heads, against the distance to the line tried at every tenth of a millimetre: a place is as far from the line as it was put aside,
// and nearest to it where it was put along. Where it was put is found again.
func TestPlaceOnHeads(t *testing.T) {
	rng := fitSeeded(4)
	for range fitFewer(12, 3) {
		h := fitHead(t, rng)
		for _, at := range fitPlaces {
			c, ok := courseOf(h, at)
			if !ok {
				t.Fatalf("%+v: no line at %s", h.Measures, at)
			}
			for range 4 {
				along := scalp.MM(0.8 * float64(c.high) * (2*rng.Float64() - 1))
				aside := scalp.MM(40*rng.Float64() - 20)
				p, _ := c.at(along, aside)
				backAlong, backAside := c.of(p, along+scalp.MM(30*rng.Float64()-15))
				if math.Abs(float64(backAlong-along)) > 1e-4 || math.Abs(float64(backAside-aside)) > 1e-4 {
					t.Errorf("%s: %.4f along, %.4f aside is found %.4f along, %.4f aside", at, float64(along), float64(aside), float64(backAlong), float64(backAside))
				}
				least, where := math.Inf(1), scalp.MM(0)
				for k := -30; k <= 30; k++ {
					try := along + scalp.MM(k)/10
					if d := float64(h.Distance(p, c.line.Point(try))); d < least {
						least, where = d, try
					}
				}
				if math.Abs(least-math.Abs(float64(aside))) > 0.005 {
					t.Errorf("%s: %.4f mm aside is %.4f mm from the line", at, float64(aside), least)
				}
				if math.Abs(float64(aside)) > 2 && math.Abs(float64(where-along)) > 0.55 {
					t.Errorf("%s: %.4f along, %.4f aside is nearest to %.4f", at, float64(along), float64(aside), float64(where))
				}
				if math.Abs(float64(aside)) > 1 && aside > 0 != pastLine(c, p, along) {
					t.Errorf("%s: %.4f mm aside lies on the wrong side of the line", at, float64(aside))
				}
			}
		}
	}
}

// pastLine reports whether a place lies above its foot on a level line, before it on a line over the top, or to the right of it on a line
// front to back.
func pastLine(c course, p scalp.Vec, along scalp.MM) bool {
	d := p.Minus(c.line.Point(along))
	return [...]float64{scalp.Level: d.Z, scalp.Across: d.Y, scalp.Along: d.X}[c.kind] > 0
}

// What the head has no line or no slot for lies nowhere.
func TestPlaceOffTheHead(t *testing.T) {
	h := fitHead(t, fitSeeded(5))
	for _, at := range []sheet.Place{{At: -10}, {At: 400}, {At: 4000}, {Along: true, At: 160}, {Along: true, At: -2000}} {
		if c, ok := courseOf(h, at); ok {
			t.Errorf("%s has a line: %v", at, c.line)
		}
	}
	for right := scalp.MM(160); right < 3000; right += 8 { // not even where it would be on the top again, once round
		if c, ok := courseOf(h, sheet.Place{Along: true, At: right}); ok {
			t.Errorf("%v right has a line: %v", float64(right), c.line)
		}
	}
	s := sheet.New(h.Measures).WithBonds(sheet.Place{At: 60}, map[int]sheet.Bond{0: {Shade: 'a'}, 28: {Shade: 'a'}, 40: {Shade: 'a'}}).
		WithBond(sheet.Place{At: 4000}, 1, sheet.Bond{Shade: 'a'})
	var on []bool
	for _, l := range lay(s, nil, h) {
		on = append(on, l.on)
	}
	// Half round height 60 is some 220 mm: slot 40 is 320 mm from the middle.
	if len(on) != 4 || !on[0] || on[2] || on[3] {
		t.Errorf("on the head: %v", on)
	}
}

// An absurd distance counts as the most that can be entered, and what is no number as none.
func TestPlaceHoldsWhatIsEntered(t *testing.T) {
	h := fitHead(t, fitSeeded(6))
	at := sheet.Place{At: 60}
	s := sheet.New(h.Measures).WithBond(at, 2, sheet.Bond{Shade: 'a'})
	spot := sheet.Spot{At: at, Slot: 2}
	point := func(right, up float64) scalp.Vec {
		return lay(s, []Off{{Spot: spot, Right: scalp.MM(right), Up: scalp.MM(up)}}, h)[0].point
	}
	if point(1e12, -1e300) != point(float64(MostOff), -float64(MostOff)) {
		t.Error("1e12 mm is not held to the most")
	}
	if point(math.NaN(), 3) != point(0, 3) || point(math.Inf(1), 0) != point(float64(MostOff), 0) {
		t.Error("what is no number, or without end, moves a bond otherwise")
	}
	twice := []Off{{Spot: spot, Right: 3}, {Spot: spot, Right: 5}}
	if lay(s, twice, h)[0].point != point(3, 0) || s.With(func(c *sheet.Sheet) { c.Tried.Off = twice }).Tried.OffAt(spot) != twice[0] {
		t.Error("of two entries for one bond the first does not count")
	}
}
