package sheetfile

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"strings"

	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
)

// onHead reads what lies on the head: tapes, hairline, patches and the spacing of the map; and makes the table of it.
func (d *decoder) onHead(t table) {
	s := d.sheet
	d.tapes(t)
	hairline := d.hairline(t)
	d.turns(t)
	d.patches(t)
	spacing := !t.has("hole_spacing") ||
		number(t, "hole_spacing", bounds{float64(slots.MinSpacing), float64(slots.MaxSpacing), " mm"}, &s.HoleSpacing)
	t.flag("aside", &s.Aside)
	gap := !t.has("line_gap") ||
		number(t, "line_gap", bounds{float64(slots.MinGap), float64(slots.MaxGap), " mm"}, &s.LineGap)
	if d.head == nil || !hairline || !spacing || !gap || !t.has("row") && !t.has("accept") {
		return
	}
	// The lines of the map do not depend on partings, patches and turns, which take time.
	lines := s.With(func(c *sheet.Sheet) { c.Partings, c.KeepOff, c.Turns = nil, nil, nil })
	table, err := d.heads.outline(lines)
	if err != nil { // all that it checks has been checked
		t.failHere(err.Error(), "change the measures or the spacing")
		return
	}
	d.table = table
}

// tapes reads [head] and fits the head.
func (d *decoder) tapes(t table) {
	if !t.has("head") {
		t.failHere("there is no [head], and without it no map",
			"add [head] with circumference, ear_to_ear, front_to_nape and nape_width in mm")
		return
	}
	head, ok := t.sub("head")
	if !ok {
		return
	}
	m := &d.sheet.Measures
	ok = head.need("circumference", "ear_to_ear", "front_to_nape", "nape_width")
	ok = number(head, "circumference", anyNumber, &m.Circumference) && ok
	ok = number(head, "ear_to_ear", anyNumber, &m.EarToEar) && ok
	ok = number(head, "front_to_nape", anyNumber, &m.FrontToNape) && ok
	ok = number(head, "nape_width", anyNumber, &m.NapeWidth) && ok
	head.flag("confirmed", &m.Confirmed)
	if !ok || !d.fits {
		return
	}
	fitted, err := d.heads.fit(*m)
	var misfit *scalp.MeasureError
	switch {
	case err == nil:
		d.head = fitted
	case errors.As(err, &misfit):
		problem, remedy := explainMisfit(misfit)
		head.fail(strings.ReplaceAll(misfit.Measure, " ", "_"), problem, remedy)
	default:
		head.failHere(err.Error(), "measure again")
	}
}

// explainMisfit puts a tape that does not fit in the words of the file.
func explainMisfit(e *scalp.MeasureError) (problem, remedy string) {
	problem = fmt.Sprintf("%s %s mm: %s", e.Measure, plain(float64(e.Value)), e.Reason)
	low, high := math.Ceil(float64(e.Low)), math.Floor(float64(e.High))
	if e.High > 0 && low <= high {
		verb := "fits"
		if e.Soft {
			verb = "is what heads have"
		}
		problem += fmt.Sprintf("; between %s and %s mm %s", plain(low), plain(high), verb)
	}
	if e.Soft {
		return problem, "measure again, or add confirmed = true under [head] if it is right"
	}
	return problem, cmp.Or(bounds{low, high, " mm"}.ifCentimetres(float64(e.Value)), "measure again")
}

// hairline reads the points moved, and reports whether the hairline can be drawn.
func (d *decoder) hairline(t table) bool {
	if !t.has("hairline") {
		return true
	}
	moves, ok := t.sub("hairline")
	if !ok {
		return false
	}
	for _, l := range scalp.Landmarks() {
		name := l.String()
		if !moves.has(name) {
			continue
		}
		by, fine := moves.shift(name)
		if !fine {
			ok = false
			continue
		}
		if by == (scalp.Shift{}) {
			continue
		}
		if d.sheet.Moved == nil {
			d.sheet.Moved = map[scalp.Landmark]scalp.Shift{}
		}
		d.sheet.Moved[l] = by
		if d.head == nil {
			continue
		}
		if _, err := d.head.Hairline(map[scalp.Landmark]scalp.Shift{l: by}); err != nil {
			moves.fail(name, err.Error(), "move it less, or take the line out to put the point back")
			ok = false
		}
	}
	return ok
}

// turns reads where the hair turns.
func (d *decoder) turns(t table) {
	moves, ok := t.sub("turns")
	if !ok {
		return
	}
	for _, turn := range sheet.Turns {
		name := string(turn)
		if !moves.has(name) {
			continue
		}
		by, fine := moves.shift(name)
		if !fine || by == (scalp.Shift{}) {
			continue
		}
		if turn == sheet.HalfUpSection && by.Right != 0 {
			moves.fail(name, "the section line runs round the head, so it is not moved to a side", "write "+quoteKey(name)+" = [0, "+plain(float64(by.Up))+"]")
			continue
		}
		if d.head != nil {
			alone := sheet.New(d.sheet.Measures).With(func(c *sheet.Sheet) { c.Moved = d.sheet.Moved }).WithTurn(turn, by)
			if err := d.heads.turned(alone); err != nil {
				moves.fail(name, err.Error(), "move it less, or take the line out to put it back")
				continue
			}
		}
		*d.sheet = *d.sheet.WithTurn(turn, by)
	}
}

// shift reads [right, up].
func (t table) shift(name string) (by scalp.Shift, ok bool) {
	needsTwo, like := name+" needs two numbers: mm to the right and up", "write it like "+t.sample(t.name, name)
	list, isList := t.values[name].([]any)
	if !isList || len(list) != 2 {
		t.fail(name, needsTwo, like)
		return by, false
	}
	ok = true
	for i, to := range []*scalp.MM{&by.Right, &by.Up} {
		v, wrong := asLength(list[i])
		problem, remedy := needsTwo, like
		if wrong == "" {
			problem, remedy = bounds{-float64(scalp.MaxShift), float64(scalp.MaxShift), " mm"}.check(name, v)
		}
		if problem != "" {
			t.reader.fail(t.places.find(t.path.key(name).item(i)).value, problem, remedy)
			ok = false
		}
		*to = scalp.MM(v + 0)
	}
	return by, ok
}

// patches reads the places to keep off and sees to it that they are on the head.
func (d *decoder) patches(t table) {
	for _, p := range t.list("keep_off") {
		var k sheet.KeepOff
		ok := p.need("height", "right", "radius")
		ok = number(p, "height", anyNumber, &k.Height) && ok
		ok = number(p, "right", anyNumber, &k.Right) && ok
		if number(p, "radius", bounds{0, 80, " mm"}, &k.Radius) && k.Radius == 0 {
			p.fail("radius", "radius 0 mm keeps nothing off", "give the radius of the patch, up to 80 mm, or take this "+p.heading("keep_off")+" out")
		}
		p.text("why", &k.Why)
		d.sheet.KeepOff = append(d.sheet.KeepOff, k)
		if ok && d.head != nil {
			d.patchOnHead(p, k)
		}
	}
}

// patchOnHead reports a patch whose middle is not on the head.
func (d *decoder) patchOnHead(p table, k sheet.KeepOff) {
	height, right := plain(float64(k.Height)), plain(float64(k.Right))
	if top := d.head.FrontHeight(); k.Height < 0 || k.Height > top {
		p.fail("height", fmt.Sprintf("height %s mm: this head goes from 0 to %.0f mm", height, math.Floor(float64(top))),
			"measure up the midline from the nape hairline")
		return
	}
	line := d.head.LineAt(k.Height)
	low, high := math.Ceil(float64(line.Low)), math.Floor(float64(line.High))
	if k.Right < line.Low || k.Right > line.High {
		p.fail("right", fmt.Sprintf("right %s mm: the line at height %s goes from %.0f to %.0f mm", right, height, low, high),
			"measure along the line from the centre; negative is left")
	}
}
