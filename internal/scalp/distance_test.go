package scalp

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"
)

// allowed is how far a distance may be from the truth: the head's own tape is
// read to a millimetre, and the map's zones to a tenth (design, distances along the scalp).
func allowed(length float64) float64 {
	switch {
	case length < 60:
		return 0.01
	case length < 120:
		return 0.05
	}
	return 0.1
}

// geodesic is one line of testdata/geodesic, as points of the surface.
type geodesic struct {
	from, to, leaving Vec
	length            float64
}

// spheroids are the two surfaces of testdata/geodesic with their vectors.
var spheroids = []struct {
	file            string
	equator, toPole float64
}{
	{"prolate.csv", 80, 95},
	{"oblate.csv", 95, 80.75},
}

// geodetic is the point of a spheroid at a geodetic latitude and longitude, and
// the directions north and east there (GeographicLib's conventions).
func geodetic(equator, toPole, lat, lon float64) (p, north, east Vec) {
	sinLat, cosLat := math.Sincos(lat * math.Pi / 180)
	sinLon, cosLon := math.Sincos(lon * math.Pi / 180)
	e2 := 1 - toPole*toPole/(equator*equator)
	n := equator / math.Sqrt(1-e2*sinLat*sinLat)
	p = Vec{n * cosLat * cosLon, n * cosLat * sinLon, n * (1 - e2) * sinLat}
	return p, Vec{-sinLat * cosLon, -sinLat * sinLon, cosLat}, Vec{-sinLon, cosLon, 0}
}

// readNumbers are the rows of a file of testdata/geodesic, of so many numbers each.
func readNumbers(t testing.TB, file string, columns int) [][]float64 {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "..", "testdata", "geodesic", file))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment, r.FieldsPerRecord = '#', columns
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var all [][]float64
	for _, row := range rows[1:] {
		v := make([]float64, columns)
		for i := range v {
			if v[i], err = strconv.ParseFloat(row[i], 64); err != nil {
				t.Fatal(err)
			}
		}
		all = append(all, v)
	}
	return all
}

func readGeodesics(t testing.TB, file string, equator, toPole float64) []geodesic {
	t.Helper()
	var all []geodesic
	for _, v := range readNumbers(t, file, 6) {
		p, north, east := geodetic(equator, toPole, v[0], v[1])
		q, _, _ := geodetic(equator, toPole, v[2], v[3])
		sin, cos := math.Sincos(v[4] * math.Pi / 180)
		all = append(all, geodesic{p, q, north.Times(cos).Along(east, sin), v[5]})
	}
	if len(all) < 220 {
		t.Fatalf("%s has %d geodesics, want 220 or more", file, len(all))
	}
	return all
}

// Source: GeographicLib's GeodSolve, see testdata/geodesic/README.md.
func TestDistanceOnSpheroids(t *testing.T) {
	for _, e := range spheroids {
		t.Run(e.file, func(t *testing.T) {
			s := newSurface(e.equator, e.equator, e.toPole, e.toPole, 0, 0)
			seen := bands(60, 120, 150)
			for _, g := range readGeodesics(t, e.file, e.equator, e.toPole) {
				got := float64(s.Distance(g.from, g.to))
				seen.add(g.length, got-g.length)
				if !(math.Abs(got-g.length) <= allowed(g.length)) {
					t.Errorf("from %v to %v: %.4f mm, want %.4f", g.from, g.to, got, g.length)
				}
				if back := float64(s.Distance(g.to, g.from)); math.Abs(back-got) > 0.005 {
					t.Errorf("from %v to %v: %.4f mm there, %.4f back", g.from, g.to, got, back)
				}
			}
			seen.log(t, "distance")
		})
	}
}

// Source: GeographicLib's GeodSolve, see testdata/geodesic/README.md.
func TestShootOnSpheroids(t *testing.T) {
	for _, e := range spheroids {
		t.Run(e.file, func(t *testing.T) {
			s := newSurface(e.equator, e.equator, e.toPole, e.toPole, 0, 0)
			seen := bands(60, 120, 150)
			for _, g := range readGeodesics(t, e.file, e.equator, e.toPole) {
				end, dir := s.Shoot(g.from, g.leaving, MM(g.length))
				miss := end.Minus(g.to).Length()
				seen.add(g.length, miss)
				if !(miss <= 0.01) {
					t.Errorf("from %v along %v for %.3f mm: %.4f mm from where it should end", g.from, g.leaving, g.length, miss)
				}
				// Turned round at its end, the path leads back to where it began.
				if home, _ := s.Shoot(end, dir.Times(-1), MM(g.length)); !(home.Minus(g.from).Length() <= 0.01) {
					t.Errorf("from %v along %v for %.3f mm: comes back to %v", g.from, g.leaving, g.length, home)
				}
			}
			seen.log(t, "end of the path")
		})
	}
}

// Source: the geodesic equation integrated by Shoot, itself held against
// GeodSolve above. Spheroids cannot show an error that needs three unequal axes.
func TestDistanceOnHeads(t *testing.T) {
	rng := seeded(3)
	var heads []*Head
	for _, size := range Sizes {
		heads = append(heads, mustFit(t, size.Measures))
	}
	for range 60 {
		heads = append(heads, randomHead(rng))
	}
	seen := bands(20, 40, 60, 80, 100, 120, 150)
	for _, h := range heads {
		for range 100 {
			p := randomPoint(rng, h)
			dir := Vec{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()}
			length := 2 + 148*rng.Float64()
			q, _ := h.Shoot(p, dir, MM(length))
			got := float64(h.Distance(p, q))
			seen.add(length, got-length)
			if !(math.Abs(got-length) <= allowed(length)) {
				t.Errorf("%v: from %v to %v: %.4f mm, shot %.4f", h.Measures, p, q, got, length)
			}
		}
	}
	seen.log(t, "distance")
}

// Source: great circles.
func TestDistanceOnSphere(t *testing.T) {
	const radius = 90.0
	s := newSurface(radius, radius, radius, radius, 0, 0)
	rng := seeded(4)
	for range 500 {
		p := Vec{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()}.Unit().Times(radius)
		q := Vec{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()}.Unit().Times(radius)
		want := radius * math.Atan2(p.Cross(q).Length(), p.Dot(q))
		if got := float64(s.Distance(p, q)); !(math.Abs(got-want) < 1e-5*want+1e-9) {
			t.Errorf("from %v to %v: %.6f mm, want %.6f", p, q, got, want)
		}
	}
	p := Vec{Z: radius}
	if got := s.Distance(p, p); got != 0 {
		t.Errorf("from a point to itself: %v", got)
	}
}

// Between points on different sides of a head there is a distance too: no shorter
// than the chord, no longer than the way by a third point, and the same both ways.
func TestDistanceAcrossTheHead(t *testing.T) {
	t.Parallel()
	rng := seeded(5)
	for range 150 {
		h := randomHead(rng)
		for range 100 {
			p, q, via := randomPoint(rng, h), randomPoint(rng, h), randomPoint(rng, h)
			got := float64(h.Distance(p, q))
			chord, detour := q.Minus(p).Length(), float64(h.Distance(p, via)+h.Distance(via, q))
			longer := 1.0001
			switch {
			case got > 200: // nearly opposite ends, where the way round another side may be shorter
				longer = 1.25
			case got > 150:
				longer = 1.002
			}
			if !(got >= chord && got <= longer*detour) || math.Abs(float64(h.Distance(q, p))-got) > 1e-4*got {
				t.Errorf("%+v: from %v to %v %.3f mm, back %.3f, chord %.3f, by way of %v %.3f",
					h.Measures, p, q, got, float64(h.Distance(q, p)), chord, via, detour)
			}
		}
	}
}
