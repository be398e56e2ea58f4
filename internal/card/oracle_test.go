package card_test

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"

	"example.org/underveil/internal/card/page"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
	"example.org/underveil/internal/tally"
)

// form is the equation of a head,
//
//	(X² + Y² + β(X⁴ + Y⁴))/(1+β) + (h + μh²)/(1+μ) = 1,  X = x/a, Y = y/b, h = αz² + γz³, h(top) = h(-low) = 1,
//
// with its figures found from a few points of the head alone. β and μ are those that the package scalp documents.
type form struct{ a, b, top, low, alpha, gamma float64 }

const beta, mu = 0.44, 0.44

func formOf(t *testing.T, h *scalp.Head) form {
	t.Helper()
	widest := h.Line(scalp.LineID{Kind: scalp.Level, At: h.HeightAtLevel(0)})
	f := form{b: -widest.Point(0).Y, top: h.Line(scalp.LineID{Kind: scalp.Along}).Point(0).Z}
	for _, at := range []scalp.MM{0.3, 0.5, 0.7} { // a is the same from wherever it is found
		p := widest.Point(at * widest.High)
		y := p.Y / f.b
		a := p.X / math.Sqrt(quadratic(1+beta-y*y-beta*y*y*y*y))
		if f.a != 0 && math.Abs(a-f.a) > 1e-6 {
			t.Fatalf("the widest level is no curve of the equation: a = %g and %g", a, f.a)
		}
		f.a = a
	}
	// The depth of the lower half is that with which the middle of the nape hairline lies on the surface.
	nape := h.LineAt(0).Point(0)
	lo, hi := -nape.Z+1e-6, 400.0
	for range 200 {
		f.low = (lo + hi) / 2
		if f.settle(); f.left(nape) > 0 {
			lo = f.low
		} else {
			hi = f.low
		}
	}
	for _, at := range []scalp.MM{0, 40, 90, 150, 220, 300} {
		line := h.LineAt(at)
		for _, share := range []scalp.MM{-0.9, -0.3, 0.2, 0.6, 0.95} {
			if off := f.left(line.Point(share * line.High)); math.Abs(off) > 1e-6 {
				t.Fatalf("a point of the head at height %g misses the equation by %g", float64(at), off)
			}
		}
	}
	return f
}

func (f *form) settle() {
	f.gamma = (1/(f.top*f.top) - 1/(f.low*f.low)) / (f.top + f.low)
	f.alpha = (1 - f.gamma*f.top*f.top*f.top) / (f.top * f.top)
}

// left is by how much a point misses the equation.
func (f *form) left(p scalp.Vec) float64 {
	return (f.plan(p.X/f.a) + f.plan(p.Y/f.b)) + f.tall(p.Z) - 1
}

func (f *form) plan(X float64) float64 { return (X*X + beta*X*X*X*X) / (1 + beta) }

func (f *form) tall(z float64) float64 {
	h := f.alpha*z*z + f.gamma*z*z*z
	return (h + mu*h*h) / (1 + mu)
}

// quadratic solves q + βq² = c for q.
func quadratic(c float64) float64 { return (math.Sqrt(1+4*beta*c) - 1) / (2 * beta) }

// arc is the length of a plane curve on the head from one point to another, by an angle φ of which the two coordinates follow: one
// part of the equation is D·sin²φ, the other D·cos²φ. The integral is gonum's Gauss-Legendre quadrature of 200 points.
func (f *form) arc(d float64, side, main func(part float64) float64, from, to float64) float64 {
	at := func(phi float64) (u, v float64) {
		sin, cos := math.Sincos(phi)
		return math.Copysign(side(d*sin*sin), sin), math.Copysign(main(d*cos*cos), cos)
	}
	const step = 1e-5
	speed := func(phi float64) float64 {
		u1, v1 := at(phi - step)
		u2, v2 := at(phi + step)
		return math.Hypot(u2-u1, v2-v1) / (2 * step)
	}
	return quad.Fixed(speed, from, to, 200, nil, 0)
}

// planInverse is the coordinate whose part of the equation is given, of half width w.
func planInverse(w float64) func(float64) float64 {
	return func(part float64) float64 { return w * math.Sqrt(quadratic((1+beta)*part)) }
}

// above is the height above the widest level whose part of the equation is given.
func (f *form) above(part float64) float64 {
	lo, hi := 0.0, f.top*1.001
	for range 60 {
		if mid := (lo + hi) / 2; f.tall(mid) < part {
			lo = mid
		} else {
			hi = mid
		}
	}
	return (lo + hi) / 2
}

// position is how far a point of a row lies from the middle of its line along the head: right of the middle, or for a row front to
// back in front of the line over the ears.
func (f *form) position(at sheet.Place, kind scalp.LineKind, p scalp.Vec) float64 {
	var d, side, main float64
	var sideOf, mainOf func(float64) float64
	switch kind {
	case scalp.Level: // x beside, y behind
		d, side, main, sideOf, mainOf = 1-f.tall(p.Z), f.plan(p.X/f.a), f.plan(p.Y/f.b), planInverse(f.a), planInverse(f.b)
	case scalp.Across: // x beside, z up
		d, side, main, sideOf, mainOf = 1-f.plan(p.Y/f.b), f.plan(p.X/f.a), f.tall(p.Z), planInverse(f.a), f.above
	default: // y in front, z up
		d, side, main, sideOf, mainOf = 1-f.plan(p.X/f.a), f.plan(p.Y/f.b), f.tall(p.Z), planInverse(f.b), f.above
	}
	sign := p.X
	if at.Along {
		sign = p.Y
	}
	phi := math.Atan2(math.Sqrt(side), math.Sqrt(main))
	if kind == scalp.Level && p.Y > 0 {
		phi = math.Pi - phi
	}
	return math.Copysign(f.arc(d, sideOf, mainOf, 0, phi), sign)
}

// printed is a row of the table of the card as text, as its figures read.
type printed struct {
	number       int
	strip, first float64 // first is negative on the left and at the back
}

var rowOfText = regexp.MustCompile(`(?m)^ ?(\d+) .{10} .{8} +([\d.]+) +([\d+]+|\d+ in( \d+)?) (centre|([\d.]+) (left|right|back|front))`)

func printedRows(text string) []printed {
	_, table, _ := strings.Cut(text, "in the order of fitting")
	table, _, _ = strings.Cut(table, "In mm.")
	var list []printed
	for _, m := range rowOfText.FindAllStringSubmatch(table, -1) {
		r := printed{}
		r.number, _ = strconv.Atoi(m[1])
		r.strip, _ = strconv.ParseFloat(m[2], 64)
		r.first, _ = strconv.ParseFloat("0"+m[6], 64)
		if m[7] == "left" || m[7] == "back" {
			r.first = -r.first
		}
		list = append(list, r)
	}
	return list
}

// What the card says to cut, and where the first hole lies, is what lies along the row on the head: the integral along the curve in
// which the row's plane cuts the surface.
func TestStripsAreAsLongAsTheirRows(t *testing.T) {
	for _, it := range []struct {
		measures scalp.Measures
		spacing  scalp.MM
		aside    bool
	}{
		{scalp.Sizes[0].Measures, 8, false},
		{scalp.Sizes[1].Measures, 8, true},
		{scalp.Sizes[2].Measures, 6.5, true},
		{scalp.Sizes[3].Measures, 12, false},
		{scalp.Measures{Circumference: 552, EarToEar: 350, FrontToNape: 345, NapeWidth: 118}, 7.3, true},
	} {
		t.Run(fmt.Sprintf("%.0f/%g/%v", float64(it.measures.Circumference), float64(it.spacing), it.aside), func(t *testing.T) {
			s := sheet.New(it.measures).With(func(c *sheet.Sheet) { c.HoleSpacing, c.Aside = it.spacing, it.aside })
			for _, height := range []scalp.MM{40, 70, 100, 130, 150, 190, 230, 280} {
				s = s.WithRow(spread(s, sheet.Place{At: height}))
			}
			for _, right := range []scalp.MM{-5, 0, 3} {
				s = s.WithRow(spread(s, sheet.Place{Along: true, At: right * it.spacing}))
			}
			table := tabled(t, s)
			f := formOf(t, table.Head)
			rows := printedRows(cardOf(t, s, page.A4).Text(false))
			pieces := tally.Pieces(s, table)
			if len(rows) != len(pieces) || len(rows) < 11 {
				t.Fatalf("the card has %d rows, want %d", len(rows), len(pieces))
			}
			for i, p := range pieces {
				line, err := table.Line(p.Place)
				if err != nil {
					t.Fatal(err)
				}
				first := f.position(p.Place, line.ID.Kind, line.At(p.Bonds[0].Slot).Point)
				last := f.position(p.Place, line.ID.Kind, line.At(p.Bonds[len(p.Bonds)-1].Slot).Point)
				const within = 0.5
				if got := rows[i]; got.number != i+1 || math.Abs(got.first-first) > within {
					t.Errorf("%s: the first hole is printed at %.1f, and lies at %.2f", p.Place, got.first, first)
				}
				if want := last - first + 2*float64(tally.ClipEnd); math.Abs(rows[i].strip-want) > within {
					t.Errorf("%s: %.1f mm of strip are printed, and the row is %.2f mm with the ends", p.Place, rows[i].strip, want)
				}
			}
		})
	}
}

// spread is a row with a bond in every third slot that has hair, begun at the left end.
func spread(s *sheet.Sheet, at sheet.Place) sheet.Row {
	table, err := slots.Outline(s)
	if err != nil {
		return sheet.Row{Place: at}
	}
	line, err := table.Line(at)
	if err != nil {
		return sheet.Row{Place: at}
	}
	bonds := map[int]sheet.Bond{}
	first, last := line.HairEnds()
	for slot := first; slot <= last; slot += 3 {
		if line.At(slot).OnScalp {
			bonds[slot] = sheet.Bond{Shade: 'a'}
		}
	}
	return sheet.NewRow(at, bonds)
}

// The height that is printed is the arc up the middle from the nape hairline: the integral along the midline of the equation.
func TestHeightsAreArcsUpTheMiddle(t *testing.T) {
	for _, size := range scalp.Sizes {
		s := sheet.New(size.Measures)
		table := tabled(t, s)
		f := formOf(t, table.Head)
		up := func(p scalp.Vec) float64 { // from the widest level
			phi := math.Atan2(math.Sqrt(f.tall(p.Z)), math.Sqrt(f.plan(p.Y/f.b)))
			if p.Y > 0 {
				phi = math.Pi - phi
			}
			return math.Copysign(f.arc(1, func(part float64) float64 {
				if p.Z < 0 {
					return f.below(part)
				}
				return f.above(part)
			}, planInverse(f.b), 0, phi), p.Z)
		}
		nape := up(table.Head.LineAt(0).Point(0))
		for _, height := range []scalp.MM{40, 90, 150, 200, 300} {
			if got := up(table.Head.LineAt(height).Point(0)) - nape; math.Abs(got-float64(height)) > 0.1 {
				t.Errorf("%s: the line at height %g is %.3f mm up", size.Name, float64(height), got)
			}
		}
	}
}

// below is above, for what lies under the widest level.
func (f *form) below(part float64) float64 {
	lo, hi := 0.0, f.low*1.001
	for range 60 {
		if mid := (lo + hi) / 2; f.tall(-mid) < part {
			lo = mid
		} else {
			hi = mid
		}
	}
	return (lo + hi) / 2
}
