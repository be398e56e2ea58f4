package tui

import (
	"fmt"
	"strings"

	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/tally"
	"example.org/underveil/internal/visit"
)

// The answers that all jobs at the chair share.
var chairReplies = []reply{
	{"next", "0", "goes to where work goes on"}, {"left", "left", ""}, {"right", "right", ""}, {"up", "up", "a row on"}, {"down", "down", "a row back"},
	{"undo", "u", ""}, {"redo", "U", ""}, {"save", "ctrl+s", ""}, {"steps", "?", "reads all steps with their cautions"}, {"pause", "esc", ""},
}

// chairVoice goes round the bonds of a visit: what comes next, in a few words, and what was just recorded before it.
func (p *plain) chairVoice(c *chair) voice {
	m := p.m
	v := voice{empty: " "}
	switch c.job.(type) {
	case fitting:
		v.replies = []reply{{"tick", " ", "or an empty line"}, {"row", "r", "ticks the row"}, {"other", "d", "says what was really placed"},
			{"left out", "x", ""}, {"untick", "", "takes the slot back"}, {"finish", "enter", ""}}
	case takingOut:
		v.replies = []reply{{"out", " ", "or an empty line"}, {"row", "r", "takes out the rest of the row"}, {"lost", "x", "for one not found"},
			{"untick", "", "takes the answer back"}, {"finish", "enter", ""}}
	case *looking:
		for _, info := range sheet.SeenMarks {
			v.replies = append(v.replies, reply{info.Words, string(rune(info.Mark)), "or " + string(rune(info.Mark))})
		}
		v.replies[0].does = "or an empty line"
		v.replies = append(v.replies, reply{"row", "r", "seals the rest of the row"}, reply{"mend", "tab", "goes to the next to mend"}, reply{"mended", "e", ""},
			reply{"another", "b", "bonds another strand"}, reply{"untick", "", "takes the answer back"}, reply{"finish", "enter", ""})
	}
	v.replies = append(v.replies, chairReplies...)
	v.text = func(text string) bool {
		switch strings.ToLower(text) {
		case "where", "count", "totals":
			p.say(p.chairCount(c))
		case "untick":
			p.untick(c)
		default:
			return false
		}
		return true
	}
	at, b, ok := c.here()
	if !ok {
		v.asks = []string{"no bond is planned that has a place on this head; pause, and place some"}
		return v
	}
	visitOf := m.doc.sheet().Visits[c.n]
	v.asks = []string{
		string(visitOf.Kind) + " of " + visitOf.Date + ", " + p.chairCount(c),
		p.chairPiece(c),
		p.chairStep(c, at, b, true),
	}
	v.changed = p.chairChanged(p.chairPiece(c), p.chairStep(c, at, b, false))
	return v
}

// chairChanged is what was recorded, the row where another one comes, and what is next; in one line where the row is the same.
func (p *plain) chairChanged(row, step string) []string {
	did := ""
	if p.m.doc.sheet() != p.was.sheet && p.was.doc == p.m.doc && p.told == "" {
		did, _, _ = strings.Cut(p.m.doc.history.CanUndo(), ": ") // and where that was is known
	}
	if c := p.m.chairOpen(); c != nil && strings.HasPrefix(did, "tick ") {
		did = p.rowTicked(c)
	}
	if p.was.cursor.At != p.m.doc.cursor.At {
		return []string{did, row, step}
	}
	if did != "" {
		step = did + ". " + step
	}
	return []string{step}
}

// chairPiece names the stretch of a row that is being worked on, with its strip where that is still to be laid on.
func (p *plain) chairPiece(c *chair) string {
	on := c.pieces[c.piece]
	text := fmt.Sprintf("row %d of %d, %s, %s: %s", c.piece+1, len(c.pieces), on.Panel, on.Place, printable.Count(len(on.Bonds), "bond"))
	if on.Strip.Holes == 0 {
		return text + ", off the map"
	}
	if _, fits := c.job.(fitting); fits && !visit.ProgressIn(p.m.doc.sheet(), c.n, on.Spots()).Begun() {
		text += ". Strip on: " + p.stripSaid(on)
	}
	return text
}

// stripSaid is the strip of a piece, and in which parts it is cut.
func (p *plain) stripSaid(on tally.Piece) string { return stripWords(p.m, on) }

// chairStep says what is to be done at the cursor. The caution that belongs to a step comes with the first of its kind.
func (p *plain) chairStep(c *chair, at sheet.Spot, b sheet.Bond, first bool) string {
	s := p.m.doc.sheet()
	strand := spokenPlace(sideOf(at.At, at.Slot)) + ", " + bondSaid(s, b)
	if on := c.pieces[c.piece]; on.Strip.Holes > 0 {
		if _, fits := c.job.(fitting); fits { // a strip has a hole for every slot
			strand = fmt.Sprintf("hole %d, ", at.Slot-on.Bonds[0].Slot+1) + strand
		}
	}
	caution, kind := "", ""
	switch job := c.job.(type) {
	case fitting:
		switch visit.StageOf(s, c.n, at) {
		case visit.Bonded:
			strand += ": bonded"
		case visit.LeftOut:
			strand += ": left out"
		case visit.Pulled:
			kind, strand = "bond", strand+": bond it, look again"
			caution = job.caution(p.m, c, at, false)
		default:
			kind, strand = "pull", strand+": hair through, look"
			caution = job.caution(p.m, c, at, false)
		}
		if c.progress(p.m).Done {
			return strand + ". All is done: finish"
		}
		if was := s.Visits[c.n].FittedRow(at.At).Bond(at.Slot); was.Placed() && was != b {
			strand += "; placed " + bondSaid(s, was)
		}
	case takingOut:
		switch s.Visits[c.n].Seen[at] {
		case sheet.TakenOut:
			strand += ": out"
		case sheet.Lost:
			strand += ": not found"
		default:
			kind, strand, caution = "out", strand+": take it out", "More remover, never force. No flame. Pain means stop."
		}
		if len(visit.Unseen(s, c.n)) == 0 {
			return strand + ". All are accounted for: finish"
		}
	case *looking:
		mark := s.Visits[c.n].Seen[at]
		info, known := mark.Info()
		switch {
		case !known:
			strand += ": how is it?"
		case mark.ToMend():
			strand += ": " + info.Words + "; " + info.Mend
		case mark != mark.Plain() && !s.Visits[c.n].FittedRow(at.At).Bond(at.Slot).Placed():
			strand += ": " + info.Words + either(mark.Plain() == sheet.Lost, ", left empty", ", mended")
		default:
			strand += ": " + info.Words
		}
		if len(visit.Unseen(s, c.n)) == 0 && len(visit.LeftToMend(s, c.n)) == 0 {
			return strand + ". Every bond has an answer: finish"
		}
	}
	if caution != "" && (first || kind != p.step) {
		strand += ". " + caution
	}
	if kind != "" {
		p.step = kind
	}
	return strand
}

// chairCount says how far the round has come.
func (p *plain) chairCount(c *chair) string {
	s := p.m.doc.sheet()
	switch c.job.(type) {
	case fitting:
		all := c.progress(p.m)
		text := fmt.Sprintf("%d bonded of %d", all.Bonded, all.Planned)
		if pulled := all.Pulled - all.Bonded; pulled > 0 {
			text += fmt.Sprintf(", %d pulled", pulled)
		}
		if all.LeftOut > 0 {
			text += fmt.Sprintf(", %d left out", all.LeftOut)
		}
		return text
	case takingOut:
		a := visit.AccountOf(s, c.n)
		return fmt.Sprintf("%d still in of %d, %d out, %d not found", a.Before-a.Out-a.Lost, a.Before, a.Out, a.Lost)
	}
	return fmt.Sprintf("%d of %d looked at, %d to mend", len(s.Visits[c.n].Seen), len(visit.In(s, c.n)), len(visit.LeftToMend(s, c.n)))
}

// rowTicked says what came of ticking a row: how many of its bonds were pulled, or bonded.
func (p *plain) rowTicked(c *chair) string {
	var before, now visit.Progress
	for _, on := range c.pieces {
		before = before.And(visit.ProgressIn(p.was.sheet, c.n, on.Spots()))
		now = now.And(visit.ProgressIn(p.m.doc.sheet(), c.n, on.Spots()))
	}
	if n := now.Bonded - before.Bonded; n > 0 {
		return fmt.Sprintf("%d bonded", n)
	}
	return fmt.Sprintf("%d pulled", now.Pulled-before.Pulled)
}

// untick takes back what was recorded of the bond at the cursor, if anything was.
func (p *plain) untick(c *chair) {
	at, _, ok := c.here()
	recorded := false
	if _, fits := c.job.(fitting); fits && ok {
		recorded = visit.StageOf(p.m.doc.sheet(), c.n, at) != visit.ToDo
	} else if ok {
		recorded = p.m.doc.sheet().Visits[c.n].Seen[at] != sheet.NoMark
	}
	if !recorded {
		p.say("nothing to untick")
		return
	}
	p.press("backspace")
}

// trainingVoice goes round the planned slots of a training head.
func (p *plain) trainingVoice(t *training) voice {
	s, at := p.m.doc.sheet(), t.here()
	state := "not looked at yet"
	off := s.Tried.OffAt(at)
	switch {
	case !s.Tried.Looked(at):
	case !s.Bond(at.At, at.Slot).Placed():
		state = "not made"
	case off.Right != 0 || off.Up != 0:
		state = offWords(off)
	default:
		state = "in its place"
	}
	step := fmt.Sprintf("%s, planned %s: %s", sideOf(at.At, at.Slot), t.planned(at), state)
	row := fmt.Sprintf("row %d of %d, %s, %s", t.piece+1, len(t.pieces), t.pieces[t.piece].Panel, at.At)
	count := fmt.Sprintf("%d of %d looked at", len(s.Tried.Seen), t.plan.Bonds())
	if extra := t.extra(s); extra > 0 {
		count += ", " + bondsOf(extra) + " besides the plan"
	}
	v := voice{empty: " ", asks: []string{"on the training head, " + count, row, step}}
	v.changed = p.chairChanged(row, step)
	v.replies = []reply{{"as planned", " ", "or an empty line"}, {"row", "r", "the rest of the row as planned"}, {"off", "d", "its place, in mm"}, {"not made", "x", ""},
		{"next", "0", ""}, {"left", "left", ""}, {"right", "right", ""}, {"up", "up", "a row on"}, {"down", "down", "a row back"}, {"undo", "u", ""}, {"redo", "U", ""},
		{"mark", "enter", ""}, {"exercise", "A", ""}, {"pause", "esc", ""}}
	v.text = func(text string) bool {
		if text == "where" || text == "count" {
			p.say(count)
			return true
		}
		return false
	}
	return v
}
