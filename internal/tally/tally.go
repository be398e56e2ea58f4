// Package tally counts what a sheet takes: strands, grams and packs by shade,
// and for each row the strip to cut.
package tally

import (
	"fmt"

	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
)

// Counts are bonds by how the strand is used.
type Counts struct {
	Whole   int // full strands
	Split   int // halves
	Trimmed int // of either, with the top of the bond cut off
}

// Bonds is how many bonds there are.
func (c Counts) Bonds() int { return c.Whole + c.Split }

// Strands is how many strands they take: two halves come from one strand, and
// half a strand left over is a strand opened.
func (c Counts) Strands() int { return c.Whole + (c.Split+1)/2 }

func (c *Counts) add(b sheet.Bond) {
	if b.Split {
		c.Split++
	} else {
		c.Whole++
	}
	if b.Trimmed {
		c.Trimmed++
	}
}

// OfShade is what a sheet takes of one shade.
type OfShade struct {
	sheet.Shade
	Counts
	Grams float64
	Packs int  // whole packs used up
	Part  int  // strands taken from one more pack; 0 when the packs come out even
	Spare bool // half a strand is left over
}

// ToBuy is the number of packs to have at hand.
func (o OfShade) ToBuy() int {
	if o.Part > 0 {
		return o.Packs + 1
	}
	return o.Packs
}

// OfRow is what one row takes.
type OfRow struct {
	sheet.Place
	Counts
	Strands int // shade by shade, so that halves pair only with their own shade
	Grams   float64
	Strip   Strip
}

// Strip is the piece of spacing strip to cut for a row.
type Strip struct {
	Holes  int
	Length scalp.MM // from end to end, with what the clips hold
	First  scalp.MM // of the leftmost hole from the middle of the row; negative is left
}

// ClipEnd is what a strip needs beyond its outermost holes for the clips, at
// each end. Common practice, no source.
const ClipEnd scalp.MM = 10

// Totals are the counts of a whole sheet.
type Totals struct {
	Counts
	Strands int // shade by shade, so that halves pair only with their own shade
	Grams   float64
	Packs   int       // to have at hand
	Shades  []OfShade // in the order of the sheet, used ones only
	Rows    []OfRow   // in the order of the sheet
}

// Count counts a sheet. t gives the strips, which need the spacing of the holes.
func Count(s *sheet.Sheet, t *slots.Table) Totals {
	total := Totals{Rows: make([]OfRow, 0, len(s.Rows))}
	var byKey ['z' + 1]Counts
	var shades ['z' + 1]sheet.Shade
	for _, h := range s.Shades {
		shades[h.Key] = h
	}
	for _, r := range s.Rows {
		row := OfRow{Place: r.Place, Strip: strip(r, t)}
		var inRow ['z' + 1]Counts
		for _, b := range r.All() {
			row.add(b)
			inRow[b.Shade].add(b)
			total.add(b)
			byKey[b.Shade].add(b)
			row.Grams += shades[b.Shade].GramsOf(b)
		}
		for _, h := range s.Shades {
			row.Strands += inRow[h.Key].Strands()
		}
		total.Rows = append(total.Rows, row)
	}
	for _, h := range s.Shades {
		c := byKey[h.Key]
		if c.Bonds() == 0 {
			continue
		}
		o := OfShade{Shade: h, Counts: c, Spare: c.Split%2 == 1}
		o.Grams = h.Grams * (float64(c.Whole) + float64(c.Split)/2)
		if h.Pack > 0 && h.Used == 0 { // re-used strands come out of the head, not out of a pack
			o.Packs, o.Part = c.Strands()/h.Pack, c.Strands()%h.Pack
		}
		total.Strands += c.Strands()
		total.Grams += o.Grams
		total.Packs += o.ToBuy()
		total.Shades = append(total.Shades, o)
	}
	return total
}

// strip is the strip for a row.
func strip(r sheet.Row, t *slots.Table) Strip {
	if r.Empty() {
		return Strip{}
	}
	return stripOver(r.First(), r.Last(), t)
}

// stripOver is a strip from one slot to another: a hole for every slot between, used or not, and the ends for the clips.
// Along a row the holes are one spacing apart on the scalp, so the strip is as long as that part of the row.
func stripOver(first, last int, t *slots.Table) Strip {
	holes := last - first + 1
	return Strip{
		Holes:  holes,
		Length: scalp.MM(holes-1)*t.Spacing + 2*ClipEnd,
		First:  t.Begin + scalp.MM(first)*t.Spacing,
	}
}

// Packs is how many packs a shade takes, in words: "5 packs, 18 of 25 from the last".
func Packs(o OfShade) string {
	switch {
	case o.Used > 0:
		return "re-used, " + printable.Count(o.Used, "time") + " in before"
	case o.Pack <= 0:
		return "sold singly"
	case o.Part == 0:
		return printable.Count(o.Packs, "pack")
	case o.Packs == 0:
		return fmt.Sprintf("1 pack, %d of %d from it", o.Part, o.Pack)
	}
	return fmt.Sprintf("%s, %d of %d from the last", printable.Count(o.ToBuy(), "pack"), o.Part, o.Pack)
}
