package tui

import (
	"fmt"
	"slices"
	"strings"

	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/lesson"
	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/visit"
)

// moment is what a listener knows when a line comes. What is otherwise after it is said.
type moment struct {
	doc          *document
	sheet        *sheet.Sheet
	report       *rule.Report
	strands      int
	grams        float64
	cursor       figure.Spot
	hand         sheet.Hand
	offset, both bool
	picked       *selection
	moving       bool
	front        dialog
}

func (p *plain) now() moment {
	m := p.m
	at := moment{doc: m.doc, front: m.front()}
	if d := m.doc; d != nil {
		at.sheet, at.report, at.strands, at.grams, at.cursor = d.sheet(), d.report, d.totals.Strands, d.totals.Grams, d.cursor
		at.hand, at.offset, at.both, at.moving = d.hand, d.offset, d.both, d.moving != nil
		if d.picked != nil { // it changes in place as it is stretched
			picked := *d.picked
			at.picked = &picked
		}
	}
	return at
}

// after says what came of a line.
func (p *plain) after() {
	defer p.flush()
	m, was := p.m, p.was
	if p.quit || m.doc != was.doc {
		p.leftAs(was.doc)
	}
	if p.quit {
		return
	}
	switch {
	case m.doc == nil:
	case m.doc != was.doc:
		p.sayOpened()
	case m.doc.sheet() != was.sheet:
		p.sayEdited()
	}
	p.sayState()
	if front := m.front(); front != nil {
		p.sayDialog(front)
		return
	}
	clear(p.heard)
	switch {
	case m.doc == nil:
		if !p.spoke || was.doc != nil || was.front != nil {
			p.sayStart()
		}
	case m.doc.moving != nil && was.moving:
		p.say("now at " + p.atPlace(true))
	case m.doc == was.doc && m.doc.cursor != was.cursor && m.doc.moving == nil && p.wantsPlace():
		p.say(p.atPlace(m.doc.cursor.At != was.cursor.At || was.front != nil) + ": " + p.here())
	case !p.spoke && was.front != nil:
		p.say(p.atPlace(true) + ": " + p.here())
	case !p.spoke:
		p.say("no change")
	}
}

// wantsPlace reports whether the place that the cursor has come to is news: an edit that took it there has told.
func (p *plain) wantsPlace() bool { return !p.placed && (!p.spoke || p.m.doc.sheet() == p.was.sheet) }

// sayOpened says what sheet there is now.
func (p *plain) sayOpened() {
	m := p.m
	if m.stepping() != nil {
		return // its step tells
	}
	d := m.doc
	s := d.sheet()
	name := s.Title
	switch {
	case d.practice != nil:
		name = "exercise: " + d.practice.x.Title
	case s.Client != "":
		name += ", client " + s.Client
	}
	if d.practice != nil {
		p.say(name)
		p.say(strings.Split(d.practice.x.Brief, "\n")...)
		p.say("what counts: " + strings.Join(d.practice.x.Counts(), "; "))
		p.briefed, p.hinted = d.practice, d.practice.hints
		return
	}
	p.say(name + ". " + p.countLine() + ". " + verdictLine(d.report))
	p.say(p.inLine())
}

// inLine says how many bonds are in the head and which visit is going on, or is empty where nothing was fitted yet.
func (p *plain) inLine() string {
	s := p.m.doc.sheet()
	text := ""
	if in := len(visit.Now(s)); in > 0 {
		text = bondsOf(in) + " in the head"
	}
	if n, open := visit.Open(s); open {
		v := s.Visits[n]
		text = strings.TrimPrefix(text+"; ", "; ") + string(v.Kind) + " of " + v.Date + " going on: fit goes on with it"
	}
	return text
}

// sayEdited says what an edit did, where the model has not told: and then which stops and cautions came and went with it, and what
// there is now.
func (p *plain) sayEdited() {
	d, was := p.m.doc, p.was
	did, count := "", ""
	if !p.spoke && !p.atChair() && d.moving == nil {
		did = p.edited()
	}
	if !p.atChair() && (d.totals.Strands != was.strands || d.totals.Grams != was.grams) {
		count = p.countLine()
	}
	if came := p.newsLine(was.report, d.report); came != "" {
		p.say(did, came, count)
		return
	}
	p.say(strings.Trim(did+"; "+count, "; "))
}

// atChair reports whether a panel is in front that says itself what was recorded.
func (p *plain) atChair() bool { return p.m.chairOpen() != nil || p.m.trainingOpen() != nil }

// edited says how the sheet differs from before: by its bonds, or else by what the step is called.
func (p *plain) edited() string {
	d := p.m.doc
	before, after := p.was.sheet, d.sheet()
	spots := changedBonds(before, after)
	switch len(spots) {
	case 0:
		return "done: " + d.history.CanUndo()
	case 1:
		return p.oneBond(before, after, spots[0])
	}
	placed, lifted, other := 0, 0, 0
	var rows []sheet.Place
	for _, at := range spots {
		switch a, b := before.Bond(at.At, at.Slot), after.Bond(at.At, at.Slot); {
		case !a.Placed():
			placed++
		case !b.Placed():
			lifted++
		default:
			other++
		}
		if !slices.Contains(rows, at.At) {
			rows = append(rows, at.At)
		}
	}
	if len(rows) == 1 {
		row, _ := after.Row(rows[0])
		return rows[0].String() + ": " + rowLine(after, row)
	}
	var parts []string
	for _, c := range []struct {
		n   int
		did string
	}{{placed, "placed"}, {lifted, "lifted"}, {other, "changed"}} {
		if c.n > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", c.n, c.did))
		}
	}
	return strings.Join(parts, ", ") + " in " + printable.Count(len(rows), "row")
}

// changedBonds are the slots that have another bond on the second sheet than on the first, or one on either only.
func changedBonds(before, after *sheet.Sheet) []sheet.Spot {
	var spots []sheet.Spot
	add := func(rows []sheet.Row) {
		for _, r := range rows {
			for slot := range r.All() {
				at := sheet.Spot{At: r.Place, Slot: slot}
				if before.Bond(r.Place, slot) != after.Bond(r.Place, slot) && !slices.Contains(spots, at) {
					spots = append(spots, at)
				}
			}
		}
	}
	add(before.Rows)
	add(after.Rows)
	return spots
}

// oneBond says what became of one bond; where it is, unless that is at the cursor.
func (p *plain) oneBond(before, after *sheet.Sheet, at sheet.Spot) string {
	where := ""
	if at != p.m.doc.cursor {
		where = " at " + spokenPlace(at.String())
	}
	a, b := before.Bond(at.At, at.Slot), after.Bond(at.At, at.Slot)
	switch {
	case !a.Placed():
		return "placed: " + bondSaid(after, b) + where
	case !b.Placed():
		text := "lifted: " + bondSaid(before, a) + where
		if _, in := visit.Now(after)[at]; in {
			text += "; off the plan, it stays in the head"
		}
		return text
	}
	return "now " + bondSaid(after, b) + where
}

// newsLine says which stops and cautions came and which went: first how many there are now, then those that came.
func (p *plain) newsLine(before, after *rule.Report) string {
	if p.m.doc.hiding() || p.was.doc != nil && p.was.doc.practice.hides(p.was.sheet) {
		return ""
	}
	var came, went []string
	for _, n := range lesson.Together(lesson.Between(before, after)) {
		if n.Severity < rule.Caution {
			continue
		}
		what := n.Severity.String() + " " + n.Rule
		if n.On != sheet.OnSheet {
			what += " at " + spokenPlace(n.Where())
		}
		switch {
		case n.Turn == lesson.Went && n.Accepted == nil:
			went = append(went, what)
		case n.Turn == lesson.Came && n.Accepted == nil || n.Turn == lesson.Weighs && n.Accepted == nil:
			came = append(came, what)
		}
	}
	if len(came)+len(went) == 0 {
		if before.Stops != after.Stops || before.Cautions != after.Cautions { // one was accepted
			return "now " + graveLine(after)
		}
		return ""
	}
	line := "now " + graveLine(after)
	if len(came) > 0 {
		line += "; new: " + firstOf(came)
	}
	if len(went) > 0 {
		line += "; gone: " + firstOf(went)
	}
	return line
}

// graveLine counts what has to be put right or looked at.
func graveLine(r *rule.Report) string {
	switch {
	case r.Stops > 0 && r.Cautions > 0:
		return rule.Counted(r.Stops, "stop") + ", " + rule.Counted(r.Cautions, "caution")
	case r.Stops > 0:
		return rule.Counted(r.Stops, "stop")
	case r.Cautions > 0:
		return rule.Counted(r.Cautions, "caution")
	}
	return "no stop, no caution"
}

// firstOf is the first few of a list in a sentence, and how many more there are.
func firstOf(list []string) string {
	const few = 3
	if len(list) > few {
		return strings.Join(list[:few], "; ") + fmt.Sprintf("; and %d more, findings lists them", len(list)-few)
	}
	return strings.Join(list, "; ")
}
