package tui

import (
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/underveil/internal/lesson"
	"example.org/underveil/internal/sheet"
)

// command is one thing that a key does. The table of commands is the bottom
// line, the page of keys and the list in the README.
type command struct {
	group string
	id    string      // what it is called in the settings and in the line dialogue; never changed once released
	bind  key.Binding // Help().Key is how the key is written, Help().Desc what it does
	short string      // for the bottom line; empty keeps it off
	run   func(*Model) tea.Cmd
	off   func(*Model) string // why it can't be used now, or empty; may be nil
}

func (c command) offReason(m *Model) string {
	if c.off == nil {
		return ""
	}
	return c.off(m)
}

// on makes a binding from the keys, how they are written, and what they do.
func on(keys, written, does string) key.Binding {
	list := strings.Fields(keys)
	if keys == " " {
		list = []string{keys}
	}
	return key.NewBinding(key.WithKeys(list...), key.WithHelp(written, does))
}

// edits wraps an edit of the document that tells what it did.
func edits(f func(*document) string) func(*Model) tea.Cmd {
	return func(m *Model) tea.Cmd {
		m.tell(f(m.doc))
		return nil
	}
}

// does wraps what needs no command back.
func does(f func(*Model)) func(*Model) tea.Cmd {
	return func(m *Model) tea.Cmd {
		f(m)
		return nil
	}
}

func steps(right, up int) func(*Model) tea.Cmd {
	return does(func(m *Model) {
		m.doc.picked = nil
		m.doc.move(right, up)
	})
}

func stretches(right, up int) func(*Model) tea.Cmd {
	return does(func(m *Model) { m.doc.stretch(right, up) })
}

func pattern(p sheet.Pattern) func(*Model) tea.Cmd {
	return does(func(m *Model) { m.doc.hand.Pattern = p })
}

func needsFinding(m *Model) string {
	if m.doc.hiding() {
		if m.doc.practice.x.Findings == lesson.Asked {
			return "what the rules find is hidden until you ask: " + m.keyOf("ask-rules")
		}
		return "here what the rules find comes with the mark: " + m.keyOf("exercise") + ", m"
	}
	if len(m.doc.report.Findings) == 0 {
		return "the rules have found nothing"
	}
	return ""
}

// The groups of commands, in the order of the page of keys.
const (
	groupMove  = "Moving"
	groupPaint = "Placing"
	groupHand  = "In hand"
	groupRow   = "Rows and stretches"
	groupCheck = "Findings"
	groupChair = "At the chair"
	groupTeach = "Practise and teach"
	groupSheet = "The sheet"
	groupView  = "The screen"
)

var groups = []string{groupMove, groupPaint, groupHand, groupRow, groupCheck, groupChair, groupTeach, groupSheet, groupView}

// commands is the table of keys. It is filled by init, since commands open the page
// that lists them.
var commands []command

func init() {
	commands = []command{
		{groupPaint, "place", on(" ", "space", "place a bond, or lift the one there"), "place", edits((*document).placeOrLift), nil},
		{groupPaint, "paint", on("r", "r", "paint the row between the edges of the zones, or what is selected"), "row", edits((*document).paintRow), nil},
		{groupPaint, "plan", on("R", "R", "plan the whole head, to look at and take row by row or whole"), "plan", (*Model).planRows, notPractising},
		{groupHand, "in-hand", on("b", "b", "what is in hand: pattern, strand, shades, offset"), "in hand", does(func(m *Model) { m.push(newHandForm(m)) }), nil},
		{groupCheck, "next-finding", on("n", "n", "go to the next finding"), "next", does(func(m *Model) { m.nextFinding(1) }), needsFinding},
		{groupCheck, "fix", on("f", "f", "fix the finding in view"), "fix", does((*Model).fixShown), needsFinding},
		{groupSheet, "undo", on("u", "u", "take the last step back"), "undo", edits((*document).undo), nil},
		{groupSheet, "save", on("ctrl+s", "ctrl+s", "save"), "save", (*Model).save, nil},
		{groupView, "keys", on("?", "?", "this page"), "keys", does(func(m *Model) { m.push(newKeyPage(m)) }), nil},

		{groupMove, "left", on("left", "← →", "one slot left or right"), "", steps(-1, 0), nil},
		{groupMove, "right", on("right", "", ""), "", steps(1, 0), nil},
		{groupMove, "up", on("up", "↑ ↓", "one line up or down"), "", steps(0, 1), nil},
		{groupMove, "down", on("down", "", ""), "", steps(0, -1), nil},
		{groupMove, "up-five", on("pgup", "PgUp PgDn", "five lines up or down"), "", steps(0, 5), nil},
		{groupMove, "down-five", on("pgdown", "", ""), "", steps(0, -5), nil},
		{groupMove, "line-start", on("home", "Home End", "the ends of the line"), "", does(func(m *Model) { m.doc.toEnd(-1) }), nil},
		{groupMove, "line-end", on("end", "", ""), "", does(func(m *Model) { m.doc.toEnd(1) }), nil},
		{groupMove, "centre", on("0", "0", "the centre of the line"), "", does(func(m *Model) { m.doc.toCentre() }), nil},
		{groupMove, "turn", on("d", "d", "on the top: turn between ear to ear and front to back"), "", edits((*document).turn), nil},

		{groupHand, "every-slot", on("1", "1 2 3 4", "every slot, every second, third, fourth"), "", pattern(sheet.EverySlot), nil},
		{groupHand, "every-second", on("2", "", ""), "", pattern(sheet.EverySecond), nil},
		{groupHand, "every-third", on("3", "", ""), "", pattern(sheet.EveryThird), nil},
		{groupHand, "every-fourth", on("4", "", ""), "", pattern(sheet.EveryFourth), nil},
		{groupHand, "pattern", on("p", "p", "write a pattern"), "", does(func(m *Model) { m.push(newPatternPrompt(m)) }), nil},
		{groupHand, "split", on("h", "h", "split strands, or whole ones"), "", edits((*document).switchSplit), nil},
		{groupHand, "trim", on("t", "t", "trimmed bonds, or full ones"), "", edits((*document).switchTrimmed), nil},
		{groupHand, "offset", on("o", "o", "offset rows against the row below"), "", edits((*document).switchOffset), nil},
		{groupHand, "both-sides", on("s", "s", "place and lift on both sides at once"), "", edits((*document).switchBoth), nil},

		{groupRow, "row-left", on("[", "[ ]", "shift the row by a slot"), "", edits(func(d *document) string { return d.shiftRow(-1) }), nil},
		{groupRow, "row-right", on("]", "", ""), "", edits(func(d *document) string { return d.shiftRow(1) }), nil},
		{groupRow, "copy-row", on("c", "c", "copy the row"), "", edits((*document).copyRow), nil},
		{groupRow, "lay-row", on("v", "v", "lay the copied row here"), "", edits((*document).layCopied), nil},
		{groupRow, "clear", on("delete backspace", "Delete", "clear the row, or what is selected"), "", edits((*document).clearRow), nil},
		{groupRow, "row-look", on("l", "l", "what the row is for: length, volume, highlights"), "", edits((*document).nextLook), nil},
		{groupRow, "select-left", on("shift+left", "shift+arrows", "select a stretch"), "", stretches(-1, 0), nil},
		{groupRow, "select-right", on("shift+right", "", ""), "", stretches(1, 0), nil},
		{groupRow, "select-up", on("shift+up", "", ""), "", stretches(0, 1), nil},
		{groupRow, "select-down", on("shift+down", "", ""), "", stretches(0, -1), nil},
		{groupRow, "select-start", on("shift+home", "shift+Home End", "select to the end of the line"), "", does(func(m *Model) { m.doc.stretchToEnd(-1) }), nil},
		{groupRow, "select-end", on("shift+end", "", ""), "", does(func(m *Model) { m.doc.stretchToEnd(1) }), nil},
		{groupRow, "select-panel", on("g", "g", "select the panel: back, a side, the top"), "", edits(func(d *document) string {
			return d.pickPanel().String() + " selected"
		}), nil},
		{groupRow, "move", on("m", "m", "move what is selected, or the row"), "", edits((*document).takeUp), nil},
		{groupRow, "as-in-hand", on("y", "y", "make the bonds selected, or the one here, as in hand"), "", edits((*document).asInHand), nil},
		{groupRow, "select-nothing", on("esc", "Esc", "select nothing"), "", does(func(m *Model) { m.doc.picked = nil }), nil},

		{groupCheck, "finding-before", on("N", "N", "go to the finding before"), "", does(func(m *Model) { m.nextFinding(-1) }), needsFinding},
		{groupCheck, "explain", on("e enter", "e", "explain the finding in view"), "", does((*Model).explainShown), needsFinding},
		{groupCheck, "why", on("Y", "Y", "why: how the figures at the cursor come about"), "", does((*Model).whyHere), seesFigures},
		{groupCheck, "accept", on("a", "a", "accept the finding in view, with a reason"), "", does((*Model).acceptShown), mayAccept},
		{groupSheet, "keep-off", on("P", "P", "a patch to keep off here: a scar, a sore or thin place"), "", does(func(m *Model) { m.push(newPatchForm(m)) }), nil},
		{groupCheck, "limits", on("z", "z", "move a limit, a hairline point, the whorl, a tie or the section line"), "", does(func(m *Model) { m.push(newZonePanel(m)) }), nil},

		{groupChair, "card", on("K", "K", "the card: a page to work from and one for the client, as PDF, SVG or text"), "", does((*Model).askForCard), nil},
		{groupChair, "fit", on("F", "F", "fit what is planned, refit, or take out: bond by bond, and recorded"), "", (*Model).goFit, nil},
		{groupChair, "inspect", on("I", "I", "inspect every bond that is in, and mend what is wrong"), "", (*Model).goInspect, nil},
		{groupChair, "visits", on("V", "V", "the visits, when the client is due, and what was kept"), "", does((*Model).showVisits), nil},
		{groupTeach, "exercise", on("A", "A", "the exercise: brief, hints, mark, try again, an answer, hand in; without one, the list of them"), "", (*Model).showLesson, nil},
		{groupTeach, "ask-rules", on("G", "G", "ask what the rules find, in an exercise that hides it"), "", does((*Model).askRules), needsAsking},
		{groupTeach, "name-fault", on("J", "J", "name what is wrong with the bond here, in an exercise with faults to find"), "", does((*Model).accuse), needsFaults},
		{groupTeach, "record", on("D", "D", "record what is done, step by step, as a demonstration; or end that"), "", (*Model).switchRecording, nil},
		{groupTeach, "projector", on("X", "X", "large layout for a projector, or back"), "", does((*Model).switchLarge), nil},
		{groupSheet, "redo", on("U ctrl+r", "U", "make the step again"), "", edits((*document).redo), nil},
		{groupSheet, "save-as", on("S", "S", "save under another name"), "", does((*Model).saveAs), nil},
		{groupSheet, "earlier", on("Z", "Z", "the sheet as it was saved before: lay it beside, or bring it back"), "", (*Model).showVersions, mayHaveVersions},
		{groupSheet, "client", on("i", "i", "the client: measures, hair, wishes, wear, partings"), "", does(func(m *Model) { m.push(newClientForm(m)) }), nil},
		{groupSheet, "consultation", on("Q", "Q", "the consultation: scalp and skin, patch test, agreement"), "", does(func(m *Model) { m.push(newConsultForm(m)) }), nil},
		{groupSheet, "match", on("M", "M", "the client's colour, and what matches it in stock"), "", does(func(m *Model) { m.push(newMatchForm(m)) }), nil},
		{groupSheet, "order", on("E", "E", "order and estimate: strands, packs, price, chair time"), "", does((*Model).showOrder), nil},
		{groupSheet, "shades", on("k", "k", "the shades of this sheet"), "", does(func(m *Model) { m.push(newShadeForm(m)) }), nil},
		{groupSheet, "new", on("ctrl+n", "ctrl+n", "a new sheet"), "", (*Model).newSheet, nil},
		{groupSheet, "open", on("ctrl+o", "ctrl+o", "open a sheet"), "", (*Model).openSheet, nil},
		{groupSheet, "leave", on("q ctrl+c", "q", "leave"), "", (*Model).quit, nil},

		{groupView, "side", on("tab", "Tab", "what the side shows: findings, rows, strands"), "", does((*Model).nextPage), nil},
		{groupView, "reading", on("w", "w", "what the map is shaded by: zones, veil, cover worn up, load, density"), "worn", does(func(m *Model) { m.nextReading(1) }), nil},
		{groupView, "reading-before", on("W", "W", "the reading before"), "", does(func(m *Model) { m.nextReading(-1) }), nil},
		{groupView, "weeks", on("T", "T", "the reading of a cover at the fitting, in six and in eight weeks"), "", does((*Model).nextTime), nil},
		{groupView, "head", on("H", "H", "the head itself, beside the map or on a page of its own"), "", does((*Model).switchHead), nil},
		{groupView, "turn-left", on(",", ", .", "turn the head to the left or right"), "", does(func(m *Model) { m.turnHead(-1, 0) }), nil},
		{groupView, "turn-right", on(".", "", ""), "", does(func(m *Model) { m.turnHead(1, 0) }), nil},
		{groupView, "see-higher", on("<", "< >", "see it from higher up or lower down"), "", does(func(m *Model) { m.turnHead(0, 1) }), nil},
		{groupView, "see-lower", on(">", "", ""), "", does(func(m *Model) { m.turnHead(0, -1) }), nil},
		{groupView, "beside", on("B", "B", "two maps side by side: at the fitting and in eight weeks, or this sheet and another"), "", does((*Model).nextBeside), nil},
		{groupView, "choose-beside", on("O", "O", "choose another sheet to lay beside this one"), "", (*Model).chooseBeside, nil},
		{groupView, "columns", on("C", "C", "one or two columns for a slot"), "", does((*Model).changeWidth), nil},
		{groupView, "letters", on("L", "L", "bonds as the letters of their shades"), "", does(func(m *Model) { m.letters = !m.letters }), nil},
		{groupView, "mouse", on("x", "x", "mouse on or off; off lets the terminal select text"), "", (*Model).switchMouse, nil},
		{groupView, "redraw", on("ctrl+l", "ctrl+l", "draw the screen afresh"), "", does(func(m *Model) { m.out.Forget() }), nil},
	}
}

// KeyHelp is one line of the list of keys.
type KeyHelp struct{ Group, Keys, Does string }
