// Package figure draws the map: the scalp unrolled from the back, its zones and
// its bonds, into cells. The editor and the plain-text output share it.
package figure

import (
	"example.org/underveil/internal/cells"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
)

// Gutter is the width of the heights at the left of the map.
const Gutter = 5

// Ground is what lies under the bonds: for each line of the table, the zone of
// each of its slots. It changes with the table and the limits only.
type Ground struct {
	Table *slots.Table
	zones [][]rule.Zone
}

// NewGround looks up the zone of every slot.
func NewGround(t *slots.Table, zones rule.Zones) *Ground {
	g := &Ground{Table: t, zones: make([][]rule.Zone, len(t.Lines))}
	for i, l := range t.Lines {
		g.zones[i] = make([]rule.Zone, len(l.Slots))
		for k := range l.Slots {
			g.zones[i][k] = zones.In(&l.Slots[k])
		}
	}
	return g
}

// View is how the map is to be drawn.
type View struct {
	Sheet   *sheet.Sheet
	Ground  *Ground
	Report  *rule.Report
	Glyphs  Glyphs
	Wide    bool // two cells a slot instead of one
	Letters bool // bonds as the letters of their shades
	Top     int  // index of the line drawn first, at the top
	Shift   int  // how many cells the map is moved to the left, where it is wider than its area
	Focus   *Spot
	Picked  func(at sheet.Place, slot int) bool // nil when nothing is selected
	Shading *Shading                            // what the ground is shaded by; nil for the zones
	Showing bool                                // shaded by a cover: mark the bonds that would show, not the findings
	Marks   func(Spot) (cells.Ink, rune, bool)  // what stands for a bond instead of its own mark, and no findings then; may be nil
}

// Spot is a place on the map that the drawing should point at.
type Spot = sheet.Spot

// HalfWidth is the number of slots on each side of the middle that the widest
// line needs.
func HalfWidth(t *slots.Table) int {
	half := 0
	for _, l := range t.Lines {
		half = max(half, -l.First, l.Last())
	}
	return half
}

// Size is the room that the whole map takes, with its gutter.
func Size(t *slots.Table, wide bool) (w, h int) {
	slotsWide := 2*HalfWidth(t) + 1
	if wide {
		slotsWide *= 2
	}
	return Gutter + slotsWide, len(t.Lines)
}

// drawing is one drawing of the map in an area of a screen.
type drawing struct {
	View
	scr    *cells.Screen
	area   cells.Rect
	middle int // column of slot 0
	step   int // cells a slot
}

// Draw draws the map.
func Draw(scr *cells.Screen, area cells.Rect, v View) {
	d := begin(scr, area, v)
	if d.Shading != nil {
		d.shaded()
		d.turns()
	} else {
		d.ground()
	}
	d.bonds()
	d.marks()
	d.heights()
	if d.Shading == nil {
		d.names()
	}
	d.cross()
	d.selection()
	d.focus()
}

func begin(scr *cells.Screen, area cells.Rect, v View) *drawing {
	d := &drawing{View: v, scr: scr, area: area, step: 1}
	if v.Wide {
		d.step = 2
	}
	d.middle = area.X + Gutter + HalfWidth(v.Ground.Table)*d.step - v.Shift
	return d
}

// At is the slot of the map under a cell of the screen; ok is false beside the map.
func At(area cells.Rect, v View, x, y int) (at slots.Spot, ok bool) {
	d := begin(nil, area, v)
	line := v.Top - (y - area.Y)
	if !area.Contains(x, y) || x < area.X+Gutter || line < 0 || line >= len(v.Ground.Table.Lines) {
		return slots.Spot{}, false
	}
	off := x - d.middle
	if off < 0 {
		off -= d.step - 1 // round towards the left, for both cells of a slot
	}
	return slots.Spot{Line: line, Slot: off / d.step}, true
}

// cell is where on the screen a slot of a line is drawn; ok is false outside the area.
func (d *drawing) cell(line, slot int) (x, y int, ok bool) {
	x, y = d.middle+slot*d.step, d.area.Y+d.Top-line
	return x, y, d.area.Contains(x, y) && (d.Shift == 0 || x >= d.area.X+Gutter)
}

// put sets a cell of the area.
func (d *drawing) put(x, y int, ink cells.Ink, r rune) {
	if d.area.Contains(x, y) {
		d.scr.Put(x, y, ink, r)
	}
}

// place is where on the screen a slot of a row is drawn.
func (d *drawing) place(at sheet.Place, slot int) (x, y int, ok bool) {
	spot, ok := SpotOf(d.Ground.Table, at, slot)
	if !ok {
		return 0, 0, false
	}
	return d.cell(spot.Line, spot.Slot)
}

// SpotOf is the place on the map of a slot of a row; ok is false off the map.
func SpotOf(t *slots.Table, at sheet.Place, slot int) (slots.Spot, bool) {
	line, err := t.Line(at)
	if err != nil {
		return slots.Spot{}, false
	}
	if !at.Along {
		return slots.Spot{Line: t.Index(line), Slot: slot}, true
	}
	if i := slot - line.First; i >= 0 && i < len(line.Drawn) {
		return line.Drawn[i], true
	}
	return slots.Spot{}, false
}

// ground draws the usable scalp and the zones.
func (d *drawing) ground() {
	for i, l := range d.Ground.Table.Lines {
		for k := range l.Slots {
			x, y, ok := d.cell(i, l.First+k)
			if !ok || !l.Slots[k].OnScalp {
				continue
			}
			ink, r := d.Glyphs.zone(d.Ground.zones[i][k])
			d.scr.Put(x, y, ink, r)
			if d.step == 2 && k+1 < len(l.Slots) && l.Slots[k+1].OnScalp && d.hatched(i, k) && d.hatched(i, k+1) {
				d.put(x+1, y, ink, r) // a zone is a surface, not a row of marks
			}
		}
	}
}

func (d *drawing) hatched(line, i int) bool { return d.Ground.zones[line][i] != rule.NoZone }

// zone is how a slot in a zone is marked.
func (g Glyphs) zone(z rule.Zone) (cells.Ink, rune) {
	switch z {
	case rule.NapeZone:
		return NapeInk, g.Hatch
	case rule.EarZone:
		return EarInk, g.Hatch
	case rule.TempleZone:
		return TempleInk, g.Hatch
	case rule.FringeZone:
		return FringeInk, g.Hatch
	case rule.FaceZone:
		return FaceInk, g.Hatch
	case rule.PartZone:
		return PartInk, g.PartHatch
	case rule.KeepOffZone:
		return KeepOffInk, g.KeepOff
	}
	return Scalp, g.Scalp
}

func (d *drawing) bonds() {
	for _, r := range d.Sheet.Rows {
		for slot, b := range r.All() {
			if x, y, ok := d.place(r.Place, slot); ok {
				ink, glyph := d.bond(b)
				if d.Marks != nil {
					if other, mark, is := d.Marks(Spot{At: r.Place, Slot: slot}); is {
						ink, glyph = other, mark
					}
				}
				d.scr.Put(x, y, ink, glyph)
			}
		}
	}
}

// bond is how a bond is marked.
func (v *View) bond(b sheet.Bond) (cells.Ink, rune) {
	ink := Shade(ShadeIndex(v.Sheet, b.Shade))
	if v.Letters {
		if b.Split {
			return ink, rune(b.Shade - 'a' + 'A')
		}
		return ink, rune(b.Shade)
	}
	return ink, v.Glyphs.Bond(b)
}

// Bond is the mark of a bond.
func (g Glyphs) Bond(b sheet.Bond) rune {
	switch {
	case b.Split && b.Trimmed:
		return g.SplitTrimmed
	case b.Split:
		return g.Split
	case b.Trimmed:
		return g.Trimmed
	}
	return g.Whole
}

// ShadeIndex is the place of a shade in the sheet's list.
func ShadeIndex(s *sheet.Sheet, key byte) int {
	for i, h := range s.Shades {
		if h.Key == key {
			return i
		}
	}
	return 0
}

// marks draws the findings over the bonds, the gravest last.
func (d *drawing) marks() {
	if d.Marks != nil {
		return
	}
	if d.Showing && d.Shading != nil && d.Shading.Scale.Kind == rule.ByCover {
		d.showing()
		return
	}
	for i := len(d.Report.Findings) - 1; i >= 0; i-- {
		f := &d.Report.Findings[i]
		if f.Accepted != nil || f.Severity == rule.Note {
			continue
		}
		ink, glyph := d.severity(f.Severity)
		switch f.On {
		case sheet.OnSlot:
			if x, y, ok := d.place(f.Row, f.Slot); ok {
				d.scr.Put(x, y, ink, glyph)
			}
		case sheet.OnRow:
			if _, y, ok := d.place(f.Row, 0); ok && !f.Row.Along {
				d.put(d.area.X+Gutter-1, y, ink, glyph)
			}
		}
	}
}

// showing marks the bonds that would show by the cover that the map is shaded by.
func (d *drawing) showing() {
	for _, r := range d.Sheet.Rows {
		line, err := d.Ground.Table.Line(r.Place)
		if err != nil {
			continue
		}
		for slot := range r.All() {
			x, y, ok := d.place(r.Place, slot)
			if grave := d.gravity(line, slot, nil); ok && grave > rule.Note {
				ink, glyph := d.severity(grave)
				d.scr.Put(x, y, ink, glyph)
			}
		}
	}
}

func (d *drawing) severity(s rule.Severity) (cells.Ink, rune) {
	if s == rule.Stop {
		return StopInk, d.Glyphs.Stop
	}
	return CautionInk, d.Glyphs.Caution
}

// selection tints what is selected.
func (d *drawing) selection() {
	if d.Picked == nil {
		return
	}
	tint := func(at sheet.Place, first, n int) {
		for k := first; k < first+n; k++ {
			x, y, ok := d.place(at, k)
			if !ok || !d.Picked(at, k) {
				continue
			}
			d.pick(x, y)
			if d.step == 2 && !at.Along && d.area.Contains(x+1, y) && d.Picked(at, k+1) {
				d.pick(x+1, y)
			}
		}
	}
	for _, l := range d.Ground.Table.Lines {
		tint(l.Place(), l.First, len(l.Slots))
	}
	for _, r := range d.Sheet.Rows {
		if r.Along {
			tint(r.Place, r.First(), r.Last()-r.First()+1)
		}
	}
}

// pick tints one cell as selected: a bond keeps the colour of its shade, a finding its own.
func (d *drawing) pick(x, y int) {
	switch ink := d.scr.At(x, y).Ink; {
	case ink == StopInk || ink == CautionInk:
	case ink >= shadeInk && ink < shadeInk+shadeInks:
		d.scr.Tint(x, y, pickedShade(ink))
	case ink < shadeInk:
		d.scr.Tint(x, y, Picked)
	}
}

// cross puts the cursor's cross where nothing but ground is drawn: a row front to back may
// have a bond, or a stop, in the cell of an empty slot.
func (d *drawing) cross() {
	if d.Focus == nil {
		return
	}
	x, y, ok := d.place(d.Focus.At, d.Focus.Slot)
	if c := d.scr.At(x, y); ok && (c.Rune == ' ' || c.Ink >= Scalp && c.Ink <= KeepOffInk) {
		d.scr.Put(x, y, Cursor, d.Glyphs.Cross)
	}
}

// focus shows the cursor: reversed, as a cross where the slot is empty, and with a mark
// beside its line. The terminal's own cursor is moved there for whoever follows it, but not shown:
// on top of a reversed cell it would undo it.
func (d *drawing) focus() {
	if d.Focus == nil {
		return
	}
	x, y, ok := d.place(d.Focus.At, d.Focus.Slot)
	if !ok {
		return
	}
	d.scr.Tint(x, y, Cursor)
	d.scr.CursorX, d.scr.CursorY = x, y
	if d.scr.At(d.area.X+Gutter-1, y).Rune == ' ' {
		d.put(d.area.X+Gutter-1, y, Strong, d.Glyphs.Here)
	}
}
