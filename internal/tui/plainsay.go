package tui

import (
	"fmt"
	"math"
	"strings"

	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
	"example.org/underveil/internal/visit"
)

// wordsForMarks takes the marks of the screen out of what is said, or says them in words.
var wordsForMarks = func() *strings.Replacer {
	g := figure.Unicode
	pairs := []string{g.Dash, ", ", string(g.Dots), "...", "←", "left", "→", "right", "↑", "up", "↓", "down", "“", `"`, "”", `"`, "’", "'", "–", "-"}
	for _, r := range []rune{g.Whole, g.Split, g.Trimmed, g.SplitTrimmed, g.Hatch, g.PartHatch, g.Stop, g.Caution, g.Here, g.Across, g.Down,
		g.Corners[0], g.Corners[1], g.Corners[2], g.Corners[3], g.Whorl, g.Tie, g.More[0], g.More[1], g.Ring, g.Done, g.Good, g.Block} {
		pairs = append(pairs, string(r)+" ", "", string(r), "")
	}
	return strings.NewReplacer(pairs...)
}()

// asSpoken is what the model tells, in words for keys that are none, and without what has been said or will be in a moment.
func (p *plain) asSpoken(told string) string {
	switch {
	case strings.HasPrefix(told, "saving to ") || told == "writing the card":
		return ""
	case p.was.moving: // how to do that was said when it began
		told = strings.TrimSuffix(strings.TrimSuffix(told, howToCarry), "; ")
	}
	told = spokenFor.Replace(told)
	return strings.TrimRight(strings.TrimSuffix(told, "undo takes it back"), "; .") // it always does
}

var spokenFor = strings.NewReplacer(
	howToCarry, "left, right, up and down move it; done puts it down, cancel takes it back",
	"Enter again takes them as they are", "an empty line takes them as they are",
	"what was made besides the plan is placed with space", "what was made besides the plan is placed with place",
	"leave with Esc, and u does it there", "pause, and undo does it there",
	"bonded already; Delete takes it back, d says what it really is", "bonded already; back takes it back, other says what it really is",
	"there is nothing to mend here; Tab goes to what there is", "there is nothing to mend here; mend goes to what there is",
	"Home begins again, q ends", "first begins again, end ends",
	" Esc goes on recording.", " Cancel goes on recording.",
	"; k adds one", "; shades adds one", "; c copies one", "; copy row copies one", "; e explains it", "; explain tells why", "A has the brief", "exercise has the brief",
)

// atPlace says where the cursor is: with the height, or where that has just been said with the slot alone.
func (p *plain) atPlace(height bool) string {
	at := p.m.doc.cursor
	if height {
		return fmt.Sprintf("%s, %s", at.At, sideOf(at.At, at.Slot))
	}
	return sideOf(at.At, at.Slot)
}

// here says what there is at the cursor, the most important first: the bond, what the rules say to it, and how far the zones are.
func (p *plain) here() string {
	d := p.m.doc
	on := d.slot()
	var parts []string
	if b := d.row().Bond(d.cursor.Slot); b.Placed() {
		parts = append(parts, bondSaid(d.sheet(), b))
	} else {
		parts = append(parts, "empty")
	}
	if _, in := visit.Now(d.sheet())[d.cursor]; in {
		parts = append(parts, "in the head")
	}
	for _, f := range d.report.Findings {
		if d.isAt(f) {
			parts = append(parts, gravity(f)+" "+f.Rule)
		}
	}
	if rule := d.sheet().Tried.MarkedAt(d.cursor); rule != "" {
		parts = append(parts, rule+" named")
	}
	parts = append(parts, p.zoneAt(on))
	if d.isPicked(d.cursor.At, d.cursor.Slot) {
		parts = append(parts, "selected")
	}
	return strings.Join(parts, ", ")
}

// zoneAt says how far a slot is from the nearest zone, or how deep in it.
func (p *plain) zoneAt(on *slots.Slot) string {
	if !on.OnScalp {
		return "no hair, " + p.length(float64(on.Edge())) + " outside the hairline"
	}
	zone, room := p.m.doc.zones.Nearest(on)
	if room < 0 {
		return fmt.Sprintf("in the %s zone by %s", zone, p.length(-float64(room)))
	}
	return p.length(float64(room)) + " from the " + zone.String() + " zone"
}

// length says a length on the head.
func (p *plain) length(mm float64) string {
	if math.Abs(mm) < 9.95 {
		return strings.TrimSuffix(fmt.Sprintf("%.1f", mm), ".0") + " mm"
	}
	return fmt.Sprintf("%.0f mm", mm)
}

// gravity is how grave a finding is, in a word or two.
func gravity(f rule.Finding) string {
	if f.Accepted != nil {
		return "accepted " + f.Severity.String()
	}
	return f.Severity.String()
}

// findingLine is a finding in a line.
func findingLine(f rule.Finding) string { return findingName(f) + ": " + f.Message() }

// findingName is a finding without what was measured: "stop nape at height 20, 4 left".
func findingName(f rule.Finding) string {
	text := gravity(f) + " " + f.Rule
	if f.On != sheet.OnSheet {
		text += " at " + spokenPlace(f.Where())
	}
	return text
}

// findingInView names the finding that fix and accept are about, or is empty where there is none.
func (p *plain) findingInView() string {
	d := p.m.doc
	if len(d.report.Findings) == 0 {
		return ""
	}
	return findingName(d.report.Findings[d.inView()])
}

// spokenPlace is a place without words that say nothing to a listener.
func spokenPlace(where string) string {
	return strings.NewReplacer("slot 0, the centre", "centre", "slot 0, over the ears", "over the ears", "slot ", "").Replace(where)
}

// verdictLine counts what the rules have found.
func verdictLine(r *rule.Report) string {
	var parts []string
	for _, c := range []struct {
		n    int
		kind string
	}{{r.Stops, "stop"}, {r.Cautions, "caution"}, {r.Notes, "note"}, {r.Accepted, "accepted"}} {
		if c.n > 0 {
			parts = append(parts, rule.Counted(c.n, c.kind))
		}
	}
	if len(parts) == 0 {
		return "nothing found"
	}
	return strings.Join(parts, ", ")
}

// countLine says how many strands there are, and what they weigh.
func (p *plain) countLine() string {
	d := p.m.doc
	return fmt.Sprintf("%s, %.1f g", printable.Count(d.totals.Strands, "strand"), d.totals.Grams)
}

// handLine says what is in hand.
func (p *plain) handLine() string {
	d := p.m.doc
	b := sheet.Bond{Shade: d.hand.Shades[0], Split: d.hand.Split, Trimmed: d.hand.Trimmed}
	text := fmt.Sprintf("in hand: %s, %s, %s", d.hand.Pattern, b, p.m.shadesInHand())
	if d.offset {
		text += ", offset rows"
	}
	if d.both {
		text += ", both sides"
	}
	return text
}

// rowLine says what is in a row: how many bonds, how close, from where to where, and which are not like the most.
func rowLine(s *sheet.Sheet, r sheet.Row) string {
	if r.Empty() {
		return "no bond"
	}
	parts := []string{printable.Count(r.Count(), "bond")}
	if r.Count() > 1 {
		if even(r) {
			parts = append(parts, rule.Every(r))
		}
		parts = append(parts, "from "+sideOf(r.Place, r.First())+" to "+sideOf(r.Place, r.Last()))
	} else {
		parts = append(parts, sideOf(r.Place, r.First()))
	}
	return strings.Join(append(parts, kindsOf(s, r)...), ", ")
}

// bondSaid is a bond in words without a pause between them: "split trimmed oat".
func bondSaid(s *sheet.Sheet, b sheet.Bond) string {
	return strings.ReplaceAll(bondName(s, b), ",", "")
}

// even reports whether all bonds of a row lie equally far apart.
func even(r sheet.Row) bool {
	step, last, begun := r.Step(), 0, false
	for slot := range r.All() {
		if begun && slot-last != step {
			return false
		}
		last, begun = slot, true
	}
	return step > 0
}

// kindsOf says what the bonds of a row are: the most frequent kind by its name, and of each other where it is, or where there are many how
// many.
func kindsOf(s *sheet.Sheet, r sheet.Row) []string {
	const few, some = 4, 16 // halves are bonded apart, so it is said where they are
	where := map[sheet.Bond][]int{}
	var kinds []sheet.Bond
	for slot, b := range r.All() {
		if where[b] == nil {
			kinds = append(kinds, b)
		}
		where[b] = append(where[b], slot)
	}
	most := kinds[0]
	for _, b := range kinds {
		if len(where[b]) > len(where[most]) {
			most = b
		}
	}
	if len(kinds) == 1 {
		return []string{"all " + bondSaid(s, most)}
	}
	parts := []string{fmt.Sprintf("%d %s", len(where[most]), bondSaid(s, most))}
	for _, b := range kinds {
		if b == most {
			continue
		}
		part := fmt.Sprintf("%d %s", len(where[b]), bondSaid(s, b))
		if len(where[b]) <= few || b.Split != most.Split && len(where[b]) <= some {
			part += " at " + listOf(r.Place, where[b])
		}
		parts = append(parts, part)
	}
	return parts
}

// listOf is some slots in a sentence: "12 left and 12 right".
func listOf(at sheet.Place, list []int) string {
	names := make([]string, len(list))
	for i, slot := range list {
		names[i] = sideOf(at, slot)
	}
	return inSentence(names)
}

// inSentence puts words together: "a, b and c".
func inSentence(words []string) string {
	if n := len(words); n > 1 {
		return strings.Join(words[:n-1], ", ") + " and " + words[n-1]
	}
	return strings.Join(words, "")
}
