package tui

import (
	"fmt"
	"strconv"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
	"example.org/underveil/internal/tally"
)

// sayWhere says where the cursor is, and all that is known of the place.
func (p *plain) sayWhere() {
	d := p.m.doc
	on := d.slot()
	p.say(p.atPlace(true) + ": " + p.here())
	text := "on the " + slots.PanelOf(d.line(), on).String()
	if on.OnScalp {
		text += fmt.Sprintf("; hairline %s, nape %s, ear %s", p.length(float64(on.Edge())), p.length(float64(on.Nape)), p.length(float64(on.Ear)))
		if len(d.sheet().Partings) > 0 {
			text += ", parting " + p.length(float64(on.Part))
		}
	}
	p.say(text)
	if text, ok := p.m.readingHere(); ok {
		p.say(text)
	}
	for _, f := range d.report.Findings {
		if d.isAt(f) {
			p.say(findingLine(f))
		}
	}
	p.say(p.inLine())
	if r := d.row(); !r.Empty() {
		p.say("row: " + rowLine(d.sheet(), r))
	}
}

// readRow reads the row at the cursor, or at a place that is said.
func (p *plain) readRow(args string) {
	d := p.m.doc
	at, each := d.cursor.At, false
	if rest, ok := cutWord(args, "bonds"); ok {
		args, each = rest, true
	}
	if args != "" {
		spot, err := parseSpot(d, args)
		if err != nil {
			p.refuse(err.Error())
			return
		}
		at = spot.At
	}
	r, _ := d.sheet().Row(at)
	if r.Empty() {
		p.say(at.String() + ": no bond; " + p.roomOn(at))
		return
	}
	p.say(at.String() + ": " + rowLine(d.sheet(), r))
	if each {
		for slot, b := range r.All() {
			p.say(sideOf(at, slot) + ", " + bondSaid(d.sheet(), b))
		}
		return
	}
	for _, o := range d.totals.Rows {
		if o.Place == at {
			text := fmt.Sprintf("for %s; %.1f g; strip %s, %s", lookWord(d.sheet(), r), o.Grams, p.length(float64(o.Strip.Length)), printable.Count(o.Strip.Holes, "hole"))
			if r.Offset {
				text += "; offset"
			}
			p.say(text)
		}
	}
	for _, g := range grouped(d.report.Findings) {
		if f := d.report.Findings[g.first]; f.On != sheet.OnSheet && f.Row == at {
			p.say(groupLine(f, g))
		}
	}
}

// roomOn says how many slots of a line lie outside the zones, and from where to where.
func (p *plain) roomOn(at sheet.Place) string {
	d := p.m.doc
	line, err := d.table.Line(at)
	if err != nil {
		return "not on this head"
	}
	free := rule.Free(d.sheet(), line)
	if len(free) == 0 {
		return "no room outside the zones"
	}
	return "room from " + inSentence(stretchesOf(at, free))
}

// stretchesOf puts slots that lie side by side together: "11 left to 3 left".
func stretchesOf(at sheet.Place, list []int) []string {
	var out []string
	for i := 0; i < len(list); {
		k := i
		for k+1 < len(list) && list[k+1] == list[k]+1 {
			k++
		}
		text := sideOf(at, list[i])
		if k > i {
			text += " to " + sideOf(at, list[k])
		}
		out, i = append(out, text), k+1
	}
	return out
}

// readRows reads all rows.
func (p *plain) readRows() {
	d := p.m.doc
	rows := d.sheet().Rows
	if len(rows) == 0 {
		p.say("no rows yet")
		return
	}
	p.say(printable.Count(len(rows), "row"))
	for _, r := range rows {
		p.say(r.Place.String() + ": " + rowLine(d.sheet(), r))
	}
}

// readMap reads the head from the nape up: on each line how much room there is outside the zones, what is there, and what the rules say to it.
// Lines that are alike are said once.
func (p *plain) readMap() {
	d := p.m.doc
	type run struct {
		from, to sheet.Place
		says     string
	}
	var runs []run
	for _, l := range d.table.Lines {
		at := l.Place()
		says := strings.TrimPrefix(p.roomOn(at), "room from ")
		if r, _ := d.sheet().Row(at); !r.Empty() {
			says += "; " + p.onMap(r)
		}
		if n := len(runs); n > 0 && runs[n-1].says == says {
			runs[n-1].to = at
			continue
		}
		runs = append(runs, run{at, at, says})
	}
	p.say("by height, from the nape up; first the room outside the zones")
	for _, r := range runs {
		where := fmt.Sprintf("%g", float64(r.from.At))
		if r.to != r.from {
			where += fmt.Sprintf(" to %g", float64(r.to.At))
		}
		p.say(where + ": " + r.says)
	}
	for _, r := range d.sheet().Rows {
		if _, err := d.table.Line(r.Place); r.Along || err != nil {
			p.say(r.Place.String() + ": " + p.onMap(r))
		}
	}
}

// onMap is a row as the map reads it, with how many stops and cautions it has.
func (p *plain) onMap(r sheet.Row) string {
	text := printable.Count(r.Count(), "bond")
	if even(r) {
		text += " " + rule.Every(r)
	}
	stops, cautions := 0, 0
	for _, f := range p.m.doc.report.Findings {
		switch {
		case f.On == sheet.OnSheet || f.Row != r.Place || f.Accepted != nil:
		case f.Severity == rule.Stop:
			stops++
		case f.Severity == rule.Caution:
			cautions++
		}
	}
	if stops+cautions > 0 {
		text += ", " + graveLine(&rule.Report{Stops: stops, Cautions: cautions})
	}
	return text
}

// readFindings lists what the rules have found, those that are the same but for the slot in one line.
func (p *plain) readFindings() {
	d := p.m.doc
	if why := needsFinding(p.m); why != "" {
		p.say(why)
		return
	}
	p.say(verdictLine(d.report))
	for _, g := range grouped(d.report.Findings) {
		number := fmt.Sprint(g.first + 1)
		if g.n > 1 {
			number += fmt.Sprintf(" to %d", g.first+g.n)
		}
		p.say(number + ", " + groupLine(d.report.Findings[g.first], g))
	}
}

// groupLine is a group of findings in a line, of which f is the first.
func groupLine(f rule.Finding, g group) string {
	if g.n == 1 {
		return findingLine(f)
	}
	return fmt.Sprintf("%s %s at %s, %s, the first %s: %s", gravity(f), f.Rule, f.Row, printable.Count(g.n, "bond"), sideOf(f.Row, f.Slot), f.Message())
}

// goFinding goes to a finding by its number in the list.
func (p *plain) goFinding(args string) {
	d := p.m.doc
	if why := needsFinding(p.m); why != "" {
		p.say(why)
		return
	}
	n, err := strconv.Atoi(args)
	if args == "" {
		n = d.inView() + 1
	} else if err != nil || n < 1 || n > len(d.report.Findings) {
		p.refuse(fmt.Sprintf("findings have numbers from 1 to %d", len(d.report.Findings)))
		return
	}
	p.do(func(m *Model) tea.Cmd {
		m.told, m.doc.shown = "", n-1
		m.goToShown()
		return nil
	})
	p.sayFinding(n - 1)
	p.placed = true
}

// sayFinding says a finding, and which of them it is.
func (p *plain) sayFinding(i int) {
	found := p.m.doc.report.Findings
	if p.spoke && p.told != "" || i >= len(found) { // why there is none
		return
	}
	p.say(fmt.Sprintf("%d of %d, %s", i+1, len(found), findingLine(found[i])))
	if a := found[i].Accepted; a != nil {
		p.say("accepted: " + a.Reason)
	}
}

// readTotals says what the whole sheet comes to.
func (p *plain) readTotals() {
	d := p.m.doc
	text := p.countLine()
	if d.own > 0 {
		text += fmt.Sprintf(" to %.0f g of own hair", d.own)
	}
	if n := d.totals.Packs; n > 0 {
		text += ", " + printable.Count(n, "pack")
	}
	p.say(text)
	if d.hiding() {
		p.say(needsFinding(p.m))
	} else {
		p.say(verdictLine(d.report))
	}
	for _, o := range d.totals.Shades {
		kinds := ""
		if o.Split+o.Trimmed > 0 {
			kinds = fmt.Sprintf(", %d whole, %d split, %d trimmed", o.Whole, o.Split, o.Trimmed)
		}
		p.say(fmt.Sprintf("%c %s %s: %s%s, %s", o.Key, o.Name, p.length(float64(o.Shade.Length)), printable.Count(o.Strands(), "strand"), kinds, tally.Packs(o)))
	}
	switch {
	case d.practice != nil:
	case d.changed():
		p.say("not saved")
	case d.path != "":
		p.say("saved in " + d.path)
	}
	p.say(p.handLine())
}
