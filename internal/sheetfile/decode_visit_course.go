package sheetfile

import (
	"fmt"
	"maps"
	"strconv"

	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/visit"
)

// course is how far the visits have come, while they are read one by one. What is in the head is kept up to date as
// visit.In works it out from all visits: asked for each of four hundred, that would go through the first of them four
// hundred times.
type course struct {
	date   string // of the last visit that says when it was
	line   int    // of that date
	in     map[sheet.Place]sheet.Row
	unsure bool // there is no telling what is in the head, since a list could not be read
}

// follow reports what a visit says that cannot follow from those before it, and goes on to what is in the head after it.
func (c *course) follow(v *visited) {
	c.inTime(v)
	v.ofItsKind()
	if c.unsure = c.unsure || v.unsure; c.unsure {
		return
	}
	v.eachRow("seen", c.row, true,
		"no bond was there when this visit began", "take the mark out, or put the bond into the visit that made it")
	if in := c.bonds(); v.Kind == sheet.Fitting && in > 0 {
		v.fail("kind", fmt.Sprintf("this fitting begins with %s in the head", printable.Count(in, "bond")),
			`write "refit" if they are taken out in it, or put the removal before it`)
	} else {
		v.accounted(c.takeOut(v))
		v.eachRow("fitted", c.row, false,
			"there is a bond already", "mark in seen that it was lost or taken out, or leave the slot empty here")
	}
	v.eachRow("ticks", v.FittedRow, false,
		"that bond is made, and a tick is for one that is not", "take the tick out")
	for _, r := range v.Fitted {
		if in := c.row(r.Place); !in.Empty() {
			r = in.With(maps.Collect(r.All()))
		}
		c.in[r.Place] = r
	}
}

// row is what is in the head at a place.
func (c *course) row(at sheet.Place) sheet.Row {
	if r, ok := c.in[at]; ok {
		return r
	}
	return sheet.Row{Place: at}
}

func (c *course) bonds() int {
	n := 0
	for _, r := range c.in {
		n += r.Count()
	}
	return n
}

// takeOut leaves in the head what was neither lost nor taken out, and counts the pieces that came out.
func (c *course) takeOut(v *visited) map[visit.Kind]int {
	out := map[visit.Kind]int{}
	seen := v.rows["seen"]
	for n := range seen {
		r := &seen[n]
		row, gone := c.row(r.at), map[int]sheet.Bond{}
		for slot, i := range r.filled() {
			mark, b := sheet.Mark(r.text[i]), row.Bond(slot)
			if mark == sheet.TakenOut && b.Placed() {
				out[visit.Kind{Shade: b.Shade, Split: b.Split}]++
			}
			if mark == sheet.TakenOut || mark.Plain() == sheet.Lost {
				gone[slot] = sheet.Bond{}
			}
		}
		c.in[r.at] = row.With(gone)
	}
	return out
}

// inTime reports a visit that is before the one before it.
func (c *course) inTime(v *visited) {
	if v.Date == "" {
		return
	}
	if v.Date < c.date {
		v.fail("date", fmt.Sprintf("%s is before %s, the date of a visit above, on line %d", v.Date, c.date, c.line),
			"put the visits in the order in which they were")
		return
	}
	c.date = v.Date
	c.line, _ = v.lineAt(v.at("date").value.from)
}

// ofItsKind reports what a visit of its kind does not have.
func (v *visited) ofItsKind() {
	switch {
	case v.Kind == sheet.Removal && len(v.Fitted) > 0:
		v.fail("fitted", "nothing is fitted in a removal", "take fitted out, or make this a refit")
	case v.Kind != "" && !v.Kind.Fits() && len(v.Ticks) > 0:
		v.fail("ticks", fmt.Sprintf("ticks are of bonds that are fitted by a plan, and this visit is of the kind %q", v.Kind), "take ticks out")
	}
}

// eachRow reports of each row of a list the first slot where there is a bond, or none, and should not be.
func (v *visited) eachRow(key string, bonds func(sheet.Place) sheet.Row, should bool, problem, remedy string) {
	rows := v.rows[key]
	for n := range rows {
		r := &rows[n]
		row := bonds(r.at)
		for slot, i := range r.filled() {
			if row.Bond(slot).Placed() != should {
				where := rule.Where(sheet.Concern{On: sheet.OnSlot, Row: r.at, Slot: slot})
				v.failInside(r.written, i, fmt.Sprintf("%s: %s: %s", key, where, problem), remedy)
				break
			}
		}
	}
}

// accounted reports strands of which more are accounted for than came out.
func (v *visited) accounted(out map[visit.Kind]int) {
	for i, o := range v.Strands {
		came := out[visit.Kind{Shade: o.Shade, Split: o.Split}]
		if o.Pieces() <= came {
			continue
		}
		w, number := v.outcomes[i], "none"
		if came > 0 {
			number = strconv.Itoa(came)
		}
		letter := wordAt(w.text, 0)
		v.failWithin(w, letter, fmt.Sprintf("strands: this is about %s of %s, and in this visit %s came out", printable.Count(o.Pieces(), "piece"), letter.of(w.text), number),
			"correct the figures, or mark in seen what else was taken out")
	}
}
