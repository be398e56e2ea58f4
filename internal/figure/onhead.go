package figure

import (
	"example.org/underveil/internal/bust"
	"example.org/underveil/internal/cells"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
)

// Scene is what the map shows, to be drawn on the head itself: the ground, the partings, the bonds, and
// on these the findings; or, where the map is shaded by a cover, the bonds that would show.
func Scene(v View) bust.Scene {
	t := v.Ground.Table
	s := bust.Scene{Bare: Dim, Hair: Scalp, Edge: Label, Reach: max(t.Spacing, t.Gap) * 3 / 4}
	for i, l := range t.Lines {
		for k := range l.Slots {
			if !l.Slots[k].OnScalp {
				continue
			}
			ink, mark := v.groundMark(i, k)
			s.Ground = append(s.Ground, bust.Tint{At: l.Slots[k].Point, Ink: ink, Rune: mark})
		}
	}
	for _, p := range t.Zones.Partings {
		s.Paths = append(s.Paths, bust.Path{Points: p.Points(), Ink: Strong, Rune: v.Glyphs.PartHatch})
	}
	if v.Shading != nil && v.Shading.Scale.Kind == rule.ByCover {
		for _, turn := range turnsOf(v.Shading.Scale.Way.Wear) {
			if turn == sheet.HalfUpSection {
				s.Paths = append(s.Paths, bust.Path{Points: t.Ring(t.Turn(turn).Z), Ink: Strong, Rune: v.Glyphs.Across})
				continue
			}
			s.Marks = append(s.Marks, bust.Mark{At: t.Turn(turn), Ink: Strong, Rune: v.Glyphs.turn(turn)})
		}
	}
	s.Marks = append(s.Marks, v.bondMarks()...)
	return s
}

// groundMark is how a slot of a line is drawn where nothing lies on it; usable scalp, and what a reading
// finds good, is left to the shading of the head.
func (v *View) groundMark(line, i int) (cells.Ink, rune) {
	if v.Shading != nil {
		n := v.Shading.steps[line][i]
		if n == rule.Steps-1 {
			return Scalp, 0
		}
		return v.Glyphs.step(int(n))
	}
	zone := v.Ground.zones[line][i]
	if zone == rule.NoZone {
		return Scalp, 0
	}
	return v.Glyphs.zone(zone)
}

// How the marks of the head win over each other.
const (
	rankBond = iota + 1
	rankCaution
	rankStop
	rankCursor
)

// bondMarks are the marks of all bonds, of those with findings, and of the cursor.
func (v *View) bondMarks() []bust.Mark {
	var marks []bust.Mark
	found := v.found()
	for _, r := range v.Sheet.Rows {
		line, err := v.Ground.Table.Line(r.Place)
		if err != nil {
			continue
		}
		for slot, b := range r.All() {
			on := line.At(slot)
			if on == nil {
				continue
			}
			ink, glyph := v.bond(b)
			m := bust.Mark{At: on.Point, Ink: ink, Rune: glyph, Rank: rankBond}
			switch v.gravity(line, slot, found) {
			case rule.Stop:
				m.Ink, m.Rune, m.Rank = StopInk, v.Glyphs.Stop, rankStop
			case rule.Caution:
				m.Ink, m.Rune, m.Rank = CautionInk, v.Glyphs.Caution, rankCaution
			}
			marks = append(marks, m)
		}
	}
	if v.Focus != nil {
		if line, err := v.Ground.Table.Line(v.Focus.At); err == nil && line.At(v.Focus.Slot) != nil {
			marks = append(marks, v.cursorMark(line.At(v.Focus.Slot), marks))
		}
	}
	return marks
}

// cursorMark is the cursor: the mark of the bond there reversed, or a cross.
func (v *View) cursorMark(on *slots.Slot, marks []bust.Mark) bust.Mark {
	m := bust.Mark{At: on.Point, Ink: Cursor, Rune: v.Glyphs.Cross, Rank: rankCursor}
	for _, bond := range marks {
		if bond.At == on.Point {
			m.Rune = bond.Rune
		}
	}
	return m
}

// found are the gravest findings of slots that nobody accepted.
func (v *View) found() map[Spot]rule.Severity {
	found := map[Spot]rule.Severity{}
	for i := range v.Report.Findings {
		f := &v.Report.Findings[i]
		if at := (Spot{At: f.Row, Slot: f.Slot}); f.On == sheet.OnSlot && f.Accepted == nil {
			found[at] = max(found[at], f.Severity)
		}
	}
	return found
}

// gravity is how grave it is about a bond: what was found there, or where the map is shaded by a cover
// whether it would show.
func (v *View) gravity(line *slots.Line, slot int, found map[Spot]rule.Severity) rule.Severity {
	if v.Shading == nil || v.Shading.Scale.Kind != rule.ByCover {
		return found[Spot{At: line.Place(), Slot: slot}]
	}
	value, ok := v.Shading.Scale.At(line, slot)
	switch step := v.Shading.Scale.Step(value); {
	case !ok || step > 1:
		return rule.Note
	case step == 0:
		return rule.Stop
	}
	return rule.Caution
}

// Shows is how many bonds would show by the cover that the view is shaded by.
func (v *View) Shows() int {
	shown := 0
	for _, r := range v.Sheet.Rows {
		line, err := v.Ground.Table.Line(r.Place)
		if err != nil {
			continue
		}
		for slot := range r.All() {
			if v.gravity(line, slot, nil) > rule.Note {
				shown++
			}
		}
	}
	return shown
}
