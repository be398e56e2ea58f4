package lesson

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
	"example.org/underveil/internal/tally"
	"example.org/underveil/internal/visit"
)

// Figure is something on a sheet that can be counted or weighed.
type Figure string

// The figures. Bonds, strands, grams, split and trimmed ones can be those of one row, or of one shade, alone.
const (
	FigureBonds   Figure = "bonds"
	FigureStrands Figure = "strands"
	FigureGrams   Figure = "grams"
	FigureSplit   Figure = "split bonds"
	FigureTrimmed Figure = "trimmed bonds"
	FigureRows    Figure = "rows"
	FigureShades  Figure = "shades"
	FigurePacks   Figure = "packs"
	FigureInHead  Figure = "bonds in the head" // by the visits
	FigureVisits  Figure = "visits"            // finished ones
)

// Figures lists every figure.
var Figures = []Figure{
	FigureBonds, FigureStrands, FigureGrams, FigureSplit, FigureTrimmed, FigureRows, FigureShades, FigurePacks, FigureInHead, FigureVisits,
}

// OfOneRow reports whether a figure can be that of one row.
func (f Figure) OfOneRow() bool {
	return f == FigureBonds || f == FigureStrands || f == FigureGrams || f == FigureSplit || f == FigureTrimmed
}

// OfOneShade reports whether a figure can be that of one shade.
func (f Figure) OfOneShade() bool { return f.OfOneRow() }

// Target is a figure and the range that it has to come to lie in, both ends included.
type Target struct {
	Of    Figure
	Row   *sheet.Place // of this row alone; nil for the whole sheet
	Shade byte         // of this shade alone; 0 for all
	Least float64
	Most  float64 // infinite where there is no most
}

// String is what the target asks for: "height 40: 8 to 12 bonds".
func (t Target) String() string {
	where := ""
	if t.Row != nil {
		where = t.Row.String() + ": "
	}
	what := string(t.Of)
	if t.Most == 1 || t.Least == 1 && math.IsInf(t.Most, 1) {
		what = singular.Replace(what)
	}
	if t.Shade != 0 {
		what += " of shade " + string(rune(t.Shade))
	}
	return where + t.Range() + " " + what
}

var singular = strings.NewReplacer("bonds", "bond", "strands", "strand", "grams", "gram", "rows", "row", "shades", "shade", "packs", "pack", "visits", "visit")

// Range is the range in words: "8 to 12", "at least 8", "at most 12", "12".
func (t Target) Range() string {
	switch {
	case math.IsInf(t.Most, 1):
		return "at least " + number(t.Least)
	case t.Least == t.Most:
		return number(t.Least)
	case t.Least <= 0:
		return "at most " + number(t.Most)
	}
	return number(t.Least) + " to " + number(t.Most)
}

// slack keeps a sum of grams from missing its target by a rounding.
const slack = 1e-9

// Met reports whether a value lies in the range.
func (t Target) Met(value float64) bool { return value >= t.Least-slack && value <= t.Most+slack }

// Value is the figure on a sheet.
func (t Target) Value(s *sheet.Sheet, table *slots.Table) float64 {
	only := s
	if t.Row != nil || t.Shade != 0 {
		only = t.only(s)
	}
	total := tally.Count(only, table)
	switch t.Of {
	case FigureBonds:
		return float64(total.Bonds())
	case FigureStrands:
		return float64(total.Strands)
	case FigureGrams:
		return total.Grams
	case FigureSplit:
		return float64(total.Split)
	case FigureTrimmed:
		return float64(total.Trimmed)
	case FigureRows:
		return float64(len(total.Rows))
	case FigureShades:
		return float64(len(total.Shades))
	case FigurePacks:
		return float64(total.Packs)
	case FigureInHead:
		return float64(len(visit.Now(s)))
	case FigureVisits:
		n := len(s.Visits)
		if _, open := visit.Open(s); open {
			n--
		}
		return float64(n)
	}
	panic(fmt.Sprintf("lesson: no figure is called %q", t.Of))
}

// only is the sheet with nothing but the bonds that the target is about.
func (t Target) only(s *sheet.Sheet) *sheet.Sheet {
	return s.With(func(c *sheet.Sheet) {
		c.Rows = nil
		for _, r := range s.Rows {
			if t.Row != nil && r.Place != *t.Row {
				continue
			}
			gone := map[int]sheet.Bond{}
			for slot, b := range r.All() {
				if t.Shade != 0 && b.Shade != t.Shade {
					gone[slot] = sheet.Bond{}
				}
			}
			if r = r.With(gone); !r.Empty() {
				c.Rows = append(c.Rows, r)
			}
		}
	})
}

// number is a number as short as can be, to the hundredth.
func number(v float64) string {
	return strconv.FormatFloat(float64(int64(v*100+0.5))/100, 'f', -1, 64)
}
