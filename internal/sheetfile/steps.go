package sheetfile

import (
	"fmt"

	"example.org/underveil/internal/lesson"
	"example.org/underveil/internal/sheet"
)

// mostSteps is how many steps a demonstration may have; a morning's work has some hundreds. Of an attempt mostKept are kept, and mostMarks
// of its marks: with all that may be found or be off besides it still is a file of fewer than maxItems keys.
const (
	mostSteps = 2000
	mostKept  = 1500
	mostMarks = 300
)

// mostTried is how many slots may be named, looked at or measured: more than there are bonds on any head.
const mostTried = 1000

// effort is what it takes to read the steps of a lesson. It is bounded, since a short change may make a long sheet, each time anew.
type effort struct {
	size int // of what is read anew, in bytes of text
	fits int // heads and turns that are fitted anew
}

var mostEffort = effort{size: 16 << 20, fits: 100}

func (e effort) plus(f effort) effort    { return effort{e.size + f.size, e.fits + f.fits} }
func (e effort) within(most effort) bool { return e.size <= most.size && e.fits <= most.fits }

// marksTake is how much longer than other text visits take to read, at worst.
const marksTake = 15

// fitsBetween is how often something has to be fitted anew where one sheet follows another.
func fitsBetween(before, after *sheet.Sheet) int {
	if !sameLines(before, after) {
		return 1 + len(after.Turns)
	}
	n := 0
	for turn, by := range after.Turns {
		if before.Turns[turn] != by {
			n++
		}
	}
	return n
}

// sizeOf is how long a value of a file is, in bytes, and never longer than its text as Encode writes it.
func sizeOf(v any) int {
	n := 4
	switch v := v.(type) {
	case string:
		n += len(v)
	case []any:
		for _, v := range v {
			n += sizeOf(v)
		}
	case []map[string]any:
		for _, v := range v {
			n += sizeOf(v)
		}
	case map[string]any:
		for _, v := range v {
			n += sizeOf(v)
		}
	}
	return n
}

// steps reads steps, each on from the one before, up to the first that is wrong.
func (t table) steps(start *sheet.Sheet) []lesson.Step {
	list := t.list("step")
	if len(list) == 0 {
		return nil
	}
	at, wrong := draftOf(start)
	if wrong != nil {
		t.failHere("the sheet that the steps begin with cannot be read", "take the steps out")
		return nil
	}
	var steps []lesson.Step
	var spent effort
	var tried sheet.Tried
	for _, t := range list {
		step := lesson.Step{}
		t.text("did", &step.Did)
		t.notes("say", &step.Say)
		next, more, ok := t.nestedChanges("changes", at)
		if !ok {
			return nil
		}
		if spent = spent.plus(more); !spent.within(mostEffort) {
			t.failHere("the steps up to here are more than one file may have", "end with the step before, and begin another file with the sheet as it is then")
			return nil
		}
		at, step.Sheet = next, next.sheet
		if tried = t.tried(step.Sheet, tried); max(len(tried.Marked), len(tried.Seen), len(tried.Off)) > mostTried {
			t.fail("tried", fmt.Sprintf("by now more than %d slots are named, seen or off: no lesson needs so many", mostTried), "was something pasted many times?")
			return nil
		}
		if tried.Any() {
			step.Sheet = step.Sheet.With(func(c *sheet.Sheet) { c.Tried = tried })
		}
		step.Look = t.spot(step.Sheet)
		steps = append(steps, step)
	}
	return steps
}

// spot reads a slot of a row, or nil where there is none.
func (t table) spot(on *sheet.Sheet) *sheet.Spot {
	if !t.has("height") && !t.has("along") {
		if t.has("slot") {
			t.fail("slot", "a slot is on a row, and there is none", "add a line like "+t.sample(t.name, "height"))
		}
		return nil
	}
	spot := sheet.Spot{}
	at, ok := t.placeOn(on)
	if spot.At = at; !ok || t.has("slot") && !t.whole("slot", bounds{-sheet.MaxSlot, sheet.MaxSlot, ""}, &spot.Slot) {
		return nil
	}
	return &spot
}

// placeOn reads where a row lies that a lesson speaks of; it need not be there.
func (t table) placeOn(on *sheet.Sheet) (at sheet.Place, ok bool) {
	at, ok = (&decoder{reader: t.reader, sheet: on}).place(t)
	if problem, remedy := (bounds{0, tallest, " mm"}).check("height", float64(at.At)); ok && !at.Along && problem != "" {
		t.fail("height", problem, remedy)
		return at, false
	}
	return at, ok
}

// before is what is said to be done in a step into which others are drawn together.
const before = "all that was done before"

// steps writes steps, each as what is different from the one before. Where they are more than a file may have, the first half of them is
// drawn together into one step, so that the file can be read again.
func (w *writer) steps(kind *schema, start *sheet.Sheet, steps []lesson.Step) {
	if n := len(steps); n <= kind.most["step"] || n <= 2 {
		text, spent := stepsText(kind, start, steps)
		if n <= 2 || w.Len()+len(text) <= MaxSize && spent.within(mostEffort) {
			w.Write(text)
			return
		}
	}
	half := (len(steps) + 1) / 2
	drawn := lesson.Step{Did: before, Sheet: steps[half-1].Sheet}
	w.steps(kind, start, append([]lesson.Step{drawn}, steps[half:]...))
}

// stepsText is the text of steps, and what it takes to read them.
func stepsText(kind *schema, start *sheet.Sheet, steps []lesson.Step) (text []byte, spent effort) {
	w := &writer{}
	at, had := start, blocksOf(Encode(start))
	for _, step := range steps {
		w.tableOf(kind, "step")
		w.textIf("did", step.Did)
		w.textIf("say", step.Say)
		if step.Look != nil {
			w.spot(*step.Look)
		}
		if step.Sheet == at {
			continue
		}
		if kind == &attemptFile {
			w.lines("tried", triedBetween(at.Tried, step.Sheet.Tried))
		}
		sheet := Encode(step.Sheet)
		has := blocksOf(sheet)
		if changes := changesBetween(had, has); changes != "" {
			w.nest("changes", changes)
			spent = spent.plus(effort{len(sheet), fitsBetween(at, step.Sheet)})
			if differIn(had, has, visitsDepend...) {
				for _, v := range has["visit"] {
					spent.size += marksTake * len(v.text)
				}
			}
		}
		at, had = step.Sheet, has
	}
	return w.Bytes(), spent
}

// spot writes a slot of a row.
func (w *writer) spot(at sheet.Spot) {
	w.place(at.At)
	w.number("slot", float64(at.Slot))
}
