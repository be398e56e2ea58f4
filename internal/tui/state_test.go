package tui

import (
	"fmt"
	"slices"
	"strings"

	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/sheetfile"
)

// state is an editor in words, for fixtures: the cursor and what was told, every row, what else of the sheet is no
// longer as it was opened, the steps that can be taken back, and whatever of the screen is not as at the start.
func (e *editor) state(opened *sheet.Sheet) string {
	var w strings.Builder
	line := func(name, format string, args ...any) {
		fmt.Fprintf(&w, "%-7s %s\n", name, fmt.Sprintf(format, args...))
	}
	m := e.m
	switch {
	case e.quit:
		line("left", "the editor")
	case m.doc == nil:
		line("shows", "the start page")
	default:
		e.describeSheet(&w, line, opened)
	}
	for i := range m.dialogs {
		if i == len(m.dialogs)-1 {
			e.describeDialog(line, m.dialogs[i])
		}
	}
	if len(e.disk.saved) > 0 {
		line("wrote", "%s", strings.Join(e.disk.saved, ", "))
	}
	for _, did := range e.did {
		line("asked", "%s", did)
	}
	return w.String()
}

func (e *editor) describeSheet(w *strings.Builder, line func(string, string, ...any), opened *sheet.Sheet) {
	m, d := e.m, e.m.doc
	line("cursor", "%s, %s", d.cursor.At, rule.SlotName(d.cursor.At, d.cursor.Slot))
	if m.told != "" {
		how := "told"
		if m.grave {
			how = "warned"
		}
		line(how, "%s", m.told)
	}
	if hand := describeHand(d); hand != "every second, whole, shades a" {
		line("hand", "%s", hand)
	}
	for _, r := range d.sheet().Rows {
		extra := ""
		if r.Look != "" {
			extra += "  for " + string(r.Look)
		}
		if r.Offset {
			extra += "  offset"
		}
		line("row", "%s: %s%s", r.Place, r.Text(), extra)
	}
	if d.picked != nil {
		line("picked", "%s", describePicked(d))
	}
	if d.moving != nil {
		line("moving", "%d right, %d up", d.moving.right, d.moving.up)
	}
	for _, change := range changes(opened, d.sheet()) {
		line("sheet", "%s", change)
	}
	for _, c := range d.sheet().Tried.Marked {
		line("marked", "%s, %s", c.Rule, rule.Where(c))
	}
	for _, at := range d.sheet().Tried.Seen {
		line("seen", "%s", at)
	}
	for _, off := range d.sheet().Tried.Off {
		line("off", "%s: %s", off.Spot, offWords(off))
	}
	for _, label := range e.steps() {
		line("step", "%s", label)
	}
	if again := d.history.CanRedo(); again != "" {
		line("undone", "%s", again)
	}
	if where := d.path; d.changed() || where != "sheet.toml" {
		if where == "" {
			where = "no file"
		}
		if d.changed() {
			where += ", not saved"
		}
		line("file", "%s", where)
	}
	e.describeView(line)
}

func describeHand(d *document) string {
	strand := sheet.Bond{Shade: 'a', Split: d.hand.Split, Trimmed: d.hand.Trimmed}
	text := fmt.Sprintf("%s, %s, shades %s", d.hand.Pattern, strand, d.hand.Shades)
	if d.offset {
		text += ", offset"
	}
	if d.both {
		text += ", both sides"
	}
	return text
}

// describePicked counts the slots of the map that are selected, and the bonds on them.
func describePicked(d *document) string {
	slots, bonds := 0, 0
	for _, l := range d.table.Lines {
		for k := l.First; k <= l.Last(); k++ {
			if d.isPicked(l.Place(), k) {
				slots++
			}
		}
	}
	_, bonds = d.without(d.sheet())
	return printable.Count(slots, "slot") + ", " + printable.Count(bonds, "bond")
}

// changes are the lines of a sheet's file that differ from another's, its rows apart.
func changes(from, to *sheet.Sheet) []string {
	strip := func(s *sheet.Sheet) []string {
		bare := s.With(func(c *sheet.Sheet) { c.Rows = nil })
		return strings.Split(strings.TrimSpace(string(sheetfile.Encode(bare))), "\n")
	}
	a, b := strip(from), strip(to)
	var diff []string
	for len(a) > 0 || len(b) > 0 {
		if len(a) > 0 && len(b) > 0 && a[0] == b[0] {
			a, b = a[1:], b[1:]
			continue
		}
		gone, come := meet(a, b)
		for _, l := range a[:gone] {
			if l != "" {
				diff = append(diff, "- "+l)
			}
		}
		for _, l := range b[:come] {
			if l != "" {
				diff = append(diff, "+ "+l)
			}
		}
		a, b = a[gone:], b[come:]
	}
	return diff
}

// meet is how many lines to drop of each list, as few as possible, so that they go on alike.
func meet(a, b []string) (gone, come int) {
	for sum := 1; sum < len(a)+len(b); sum++ {
		for gone := 0; gone <= min(sum, len(a)); gone++ {
			if come := sum - gone; come <= len(b) && alike(a[gone:], b[come:]) {
				return gone, come
			}
		}
	}
	return len(a), len(b)
}

// alike reports whether two lists begin with the same two lines, which is enough not to be taken in by a blank one.
func alike(a, b []string) bool {
	n := min(2, len(a), len(b))
	return len(a) > 0 && len(b) > 0 && slices.Equal(a[:n], b[:n]) || len(a) == 0 && len(b) == 0
}

func (e *editor) describeView(line func(string, string, ...any)) {
	m := e.m
	if m.page != pageFindings {
		line("side", "%s", [...]string{"findings", "rows", "strands", "brief"}[m.page])
	}
	if m.letters {
		line("map", "bonds as letters")
	}
	if m.narrow {
		line("map", "one column a slot")
	}
	if m.wide {
		line("map", "two columns a slot")
	}
	if m.noMouse {
		line("mouse", "off")
	}
	if m.reading != (rule.Reading{}) {
		line("reading", "%s", m.readingName())
	}
	if m.headOn {
		line("head", "%s", m.from)
	}
	if m.enlarged {
		line("layout", "large")
	}
	if m.rec != nil {
		line("record", "%s", printable.Count(len(m.rec.steps), "step"))
	}
	if m.trying() {
		line("trying", "%s, at step %d", m.demo.script.Title, m.demo.at)
	}
	switch m.beside {
	case laterBeside:
		line("beside", "the same sheet, later")
	case otherBeside:
		line("beside", "%s", m.other.sheet().Title)
	}
}

func (e *editor) describeDialog(line func(string, string, ...any), front dialog) {
	m := e.m
	switch d := front.(type) {
	case *form:
		line("form", "%s", d.title)
		if d.problem != "" {
			line("problem", "%s", d.problem)
		}
	case *question:
		line("asks", "%s: %s", d.title, d.text)
	case *trouble:
		line("trouble", "%s: %s", d.title, d.text)
	case *explanation:
		line("shows", "why %s, %s; fixes: %d", d.f.Rule, d.f.Where(), len(d.fixes))
	case *zonePanel:
		what := ""
		if d.items[d.at].limit != "" {
			what = "limit "
		}
		line("zones", "%s%s", what, d.items[d.at].name())
	case *picker:
		line("shows", "sheets to open, at %d", d.at)
	case *workings:
		line("shows", "%s, from line %d", d.title, d.top)
	case *headPage:
		line("shows", "the head")
	case *keyPage:
		line("shows", "the keys")
	case *chair:
		line("chair", "%T at %s", d.job, d.where())
	case *exercisePage:
		line("shows", "the exercise, with %d hints", m.doc.practice.hints)
	case *markPage:
		line("shows", "the mark: %s", d.mark.Summary())
		for _, p := range d.mark.Points {
			line("point", "%v %s: %s", p.Met && !p.Off, p.What, p.Why)
		}
		if d.mark.Next != "" {
			line("next", "%s", d.mark.Next)
		}
	case *tryAgain:
		line("shows", "%d steps to go back to", len(d.items)-1)
	case *rulePicker:
		line("rule", "%s", strings.TrimSpace(d.items[d.at].name))
	case *exerciseList:
		line("shows", "exercises of %s, at %s", d.learner, d.items[d.at].name)
	case *training:
		line("shows", "the training head, at %s", d.here())
	case *demonstration:
		line("step", "%s", strings.TrimSpace(fmt.Sprintf("%d of %d  %s", d.at, d.last(), d.say())))
		for _, n := range d.news {
			line("news", "%s %s %s", n.Turn.Word(), n.Rule, n.Where())
		}
	case *visitsPage:
		line("shows", "the visits: %s", d.lines[1].text)
	default:
		line("shows", "%T", d)
	}
}
