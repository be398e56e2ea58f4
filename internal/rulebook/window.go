package rulebook

import (
	"cmp"
	"maps"
	"slices"

	"example.org/underveil/internal/cells"
	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
)

// How much of the map a picture shows: columns with the gutter, so that two fit side by side on the smallest terminal, and
// lines.
const (
	pictureWidth = 36
	seenSlots    = pictureWidth - figure.Gutter
	fewestLines  = 9
	mostLines    = 14
	spareLines   = 3 // above and below what it is about
)

// window is the part of the map that both pictures of an example show.
type window struct {
	left       int  // slot at its left edge
	top, lines int  // index of its uppermost line, and how many there are
	letters    bool // bonds as the letters of their shades, where nothing else tells right from wrong
}

// windowOf is where an example shows something; ok is false where the map has nothing to tell.
func windowOf(x *Example, r *rule.Rule) (w window, ok bool) {
	spots := x.about(r)
	if len(spots) == 0 {
		return window{}, false
	}
	left, right, low, high := spots[0].Slot, spots[0].Slot, spots[0].Line, spots[0].Line
	for _, s := range spots[1:] { // whatever has room beside the first
		if l, r := min(left, s.Slot), max(right, s.Slot); r-l < seenSlots {
			left, right = l, r
		}
		if l, h := min(low, s.Line), max(high, s.Line); h-l < mostLines {
			low, high = l, h
		}
	}
	t := x.Wrong.Table
	half := figure.HalfWidth(t)
	w.left = (left+right+1)/2 - seenSlots/2
	w.left = max(min(w.left, half-seenSlots+2), -half-1)
	w.lines = min(max(high-low+1+2*spareLines, fewestLines), mostLines, len(t.Lines))
	w.letters = sameSlots(x)
	w.top = max(min((high+low+w.lines)/2, len(t.Lines)-1), w.lines-1)
	return w, true
}

// about are the places on the map that an example is about, those that the rule reports first: what it reports and what is
// otherwise on the right sheet. Where it reports on the sheet as a whole, all bonds are, if the sheets differ in any.
func (x *Example) about(r *rule.Rule) []slots.Spot {
	var spots []slots.Spot
	add := func(at sheet.Place, slot int) {
		if spot, ok := figure.SpotOf(x.Wrong.Table, at, slot); ok {
			spots = append(spots, spot)
		}
	}
	whole := false
	for _, f := range x.Wrong.of(r) {
		for _, c := range append([]sheet.Concern{f.Concern}, f.Near...) {
			switch c.On {
			case sheet.OnSlot:
				add(c.Row, c.Slot)
			case sheet.OnRow:
				row, _ := x.Wrong.Sheet.Row(c.Row)
				for slot := range row.All() {
					add(c.Row, slot)
				}
			default:
				whole = true
			}
		}
	}
	wrong, right := bondsOf(x.Wrong.Sheet), bondsOf(x.Right.Sheet)
	if whole && maps.Equal(wrong, right) {
		return nil
	}
	for _, bonds := range []map[sheet.Spot]sheet.Bond{wrong, right} {
		for _, at := range slices.SortedFunc(maps.Keys(bonds), byPlace) {
			if whole || wrong[at] != right[at] {
				add(at.At, at.Slot)
			}
			if whole { // the middle of the head in the middle of the picture
				add(at.At, -at.Slot)
			}
		}
	}
	return spots
}

// sameSlots reports whether the sheets of an example have bonds in the same slots, of other shades.
func sameSlots(x *Example) bool {
	wrong, right := bondsOf(x.Wrong.Sheet), bondsOf(x.Right.Sheet)
	for at, b := range wrong {
		other, there := right[at]
		if other.Shade = b.Shade; !there || other != b {
			return false
		}
	}
	return len(wrong) == len(right) && !maps.Equal(wrong, right)
}

// byPlace orders places, so that a picture is the same each time.
func byPlace(a, b sheet.Spot) int {
	along := func(at sheet.Place) int {
		if at.Along {
			return 1
		}
		return 0
	}
	return cmp.Or(cmp.Compare(along(a.At), along(b.At)), cmp.Compare(a.At.At, b.At.At), cmp.Compare(a.Slot, b.Slot))
}

// bondsOf are all bonds of a sheet by their places.
func bondsOf(s *sheet.Sheet) map[sheet.Spot]sheet.Bond {
	bonds := map[sheet.Spot]sheet.Bond{}
	for _, r := range s.Rows {
		for slot, b := range r.All() {
			bonds[sheet.Spot{At: r.Place, Slot: slot}] = b
		}
	}
	return bonds
}

// drawing draws what the window shows of a sheet, with its upper left corner at x, y, shaded by a reading.
func (w window) drawing(x, y int, s *Shown, r *rule.Rule, g figure.Glyphs, seen rule.Reading) func(*cells.Screen) {
	return func(scr *cells.Screen) {
		v := figure.View{Sheet: s.Sheet, Ground: figure.NewGround(s.Table, rule.ZonesOf(s.Sheet)), Report: s.Report, Glyphs: g, Letters: w.letters,
			Top: w.top, Shift: figure.HalfWidth(s.Table) + w.left, Shading: s.shading(seen)}
		if noted := s.noted(r); noted != nil { // which the map does not mark by itself
			v.Marks = func(at figure.Spot) (cells.Ink, rune, bool) { return figure.NoteInk, g.Ring, noted[at] }
		}
		area := cells.Rect{X: x, Y: y, W: pictureWidth, H: w.lines}
		figure.Draw(scr, area, v)
		for _, f := range s.of(r) {
			spot, ok := figure.SpotOf(s.Table, f.Row, f.Slot)
			if at := x + figure.Gutter + spot.Slot - w.left; ok && f.On == sheet.OnSlot && area.Contains(at, y+w.top-spot.Line) {
				point(scr, area, at, y+w.top-spot.Line, g)
			}
		}
	}
}

// point lets a mark in a picture be found: it is pointed at from beside its line, and stands clear of the shading.
func point(scr *cells.Screen, area cells.Rect, x, y int, g figure.Glyphs) {
	scr.Put(area.X+figure.Gutter-1, y, figure.Strong, g.Here)
	for _, beside := range [...]int{x - 1, x + 1} {
		if area.Contains(beside, y) && slices.Contains(g.Steps[:], scr.At(beside, y).Rune) {
			scr.Put(beside, y, figure.Plain, ' ')
		}
	}
}

// noted are the slots of which a rule has notes, or nil.
func (s *Shown) noted(r *rule.Rule) map[figure.Spot]bool {
	var noted map[figure.Spot]bool
	for _, f := range s.of(r) {
		if f.Severity == rule.Note && f.On == sheet.OnSlot {
			if noted == nil {
				noted = map[figure.Spot]bool{}
			}
			noted[figure.Spot{At: f.Row, Slot: f.Slot}] = true
		}
	}
	return noted
}

// shading is what the map of a sheet is shaded by, so that it shows what a rule measures; nil for the zones.
func (s *Shown) shading(seen rule.Reading) *figure.Shading {
	if seen.Kind == rule.ByZone {
		return nil
	}
	return figure.NewShading(s.Table, rule.ScaleOf(seen, s.Sheet, s.Table))
}

// seen is what the pictures of an example are shaded by: the reading of which the rule reports a figure, or the zones.
func (x *Example) seen(r *rule.Rule) rule.Reading {
	for _, f := range x.Wrong.of(r) {
		if f.Reading.Kind == rule.ByLoad || f.Reading.Kind == rule.ByCover && f.Unit == f.Reading.Unit() {
			return f.Reading
		}
	}
	return rule.Reading{}
}
