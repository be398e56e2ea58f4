package sheetfile

import (
	"fmt"
	"math"

	"example.org/underveil/internal/lesson"
	"example.org/underveil/internal/sheet"
)

// target reads a figure and its range.
func (t table) target(on *sheet.Sheet) lesson.Target {
	target := lesson.Target{Most: math.Inf(1)}
	if !t.has("of") && !t.misspelt("of") {
		t.failHere("the target does not say of what", "add "+t.sample("target", "of"))
	}
	word(t, "of", lesson.Figures, &target.Of)
	number(t, "least", bounds{0, 10000, ""}, &target.Least)
	number(t, "most", bounds{0, 10000, ""}, &target.Most)
	switch {
	case !t.has("least") && !t.has("most") && !t.misspelt("least") && !t.misspelt("most"):
		t.failHere("the target has no range", "add "+t.sample("target", "least")+", "+t.sample("target", "most")+", or both")
	case target.Most < target.Least:
		t.fail("most", fmt.Sprintf("most is %s, and least %s", plain(target.Most), plain(target.Least)), "swap the two")
	}
	if t.has("height") || t.has("along") {
		if at, ok := t.placeOn(on); ok {
			target.Row = &at
			t.onlySome(target.Of, target.Of.OfOneRow(), placeKey(at), "a row")
		}
	}
	if t.has("shade") && t.letter("shade", &target.Shade) {
		t.onlySome(target.Of, target.Of.OfOneShade(), "shade", "a shade")
	}
	return target
}

// onlySome reports a figure that there is of the whole sheet alone.
func (t table) onlySome(of lesson.Figure, can bool, key, whose string) {
	if can || of == "" {
		return
	}
	t.fail(key, fmt.Sprintf("%s are counted on the whole sheet, not of %s", of, whose), "take this out, or count "+string(lesson.FigureBonds))
}

// knownShade reports a target of a shade that is neither on the start nor in the answer.
func (t table) knownShade(target lesson.Target, x *lesson.Exercise) {
	if target.Shade == 0 || x.Start == nil || x.Answer == nil {
		return
	}
	known := map[byte]bool{}
	for _, s := range []*sheet.Sheet{x.Start, x.Answer} {
		for _, h := range s.Shades {
			known[h.Key] = true
		}
	}
	if !known[target.Shade] {
		t.fail("shade", fmt.Sprintf("there is no shade %c on the start or in the answer", target.Shade), otherShade(target.Shade, known))
	}
}

// hint reads a hint of an exercise with some targets.
func (t table) hint(on *sheet.Sheet, targets int) lesson.Hint {
	var h lesson.Hint
	t.need("text")
	t.text("text", &h.Text)
	switch {
	case t.has("rule") && t.has("target"):
		t.fail("target", "a hint is about a rule or a target, not both", "take one of the two out")
	case t.has("target"):
		t.ofTarget(targets, &h.Target)
	case !t.has("rule"):
		t.failHere("the hint does not say what it is true of", "add "+t.sample("hint", "rule")+", or "+t.sample("hint", "target"))
	default:
		t.ruleID("rule", &h.Rule)
		spot := t.spot(on)
		switch {
		case spot == nil:
		case t.has("slot"):
			h.At = spot
		default:
			h.On = &spot.At
		}
	}
	return h
}

// ofTarget reads the number of a target.
func (t table) ofTarget(targets int, to *int) {
	for _, key := range []string{"height", "along", "slot"} {
		if t.has(key) {
			t.fail(key, "a hint about a target has no place", "take it out; the target says where it is counted")
			return
		}
	}
	n := 0
	switch ok := t.whole("target", bounds{-1e6, 1e6, ""}, &n); {
	case !ok:
	case targets == 0:
		t.fail("target", "there is no target", "add "+t.heading("target")+", or a line like "+t.sample("hint", "rule"))
	case n < 1 || n > targets:
		t.fail("target", fmt.Sprintf("there is no target %d: the last is %d", n, targets), "count each "+t.heading("target")+" of the file from 1")
	default:
		*to = n
	}
}

// exerciseRemark is the first line of every exercise that is written.
const exerciseRemark = "# Underveil exercise. Lengths in mm, grams in g."

// EncodeExercise writes an exercise in the one shape that it has.
func EncodeExercise(x *lesson.Exercise) []byte {
	w := &writer{}
	w.WriteString(exerciseRemark + "\n")
	w.number("format", formatNow)
	w.text("exercise", x.Title)
	w.text("task", string(x.Task))
	w.text("brief", x.Brief)
	w.textIf("who", x.Who)
	w.text("findings", string(x.Findings))
	w.list("may", quoteAll(x.May))
	if len(x.Clear) > 0 {
		w.list("clear", quoteAll(x.Clear))
	}
	w.numberIf("most_strands", float64(x.MostStrands))
	w.numberIf("tolerance", float64(x.Tolerance))
	w.textIf("ending", x.Ending)
	for _, t := range x.Targets {
		w.target(t)
	}
	for _, h := range x.Hints {
		w.hint(h)
	}
	for _, c := range x.Faults {
		w.tableOf(&exerciseFile, "fault")
		w.onSlot(c)
	}
	w.tableOf(&exerciseFile, "start")
	start := Encode(x.Start)
	w.nest("sheet", string(start))
	if changes := changesBetween(blocksOf(start), blocksOf(Encode(x.Answer))); changes != "" {
		w.tableOf(&exerciseFile, "answer")
		w.nest("changes", changes)
	}
	return w.Bytes()
}

func (w *writer) target(t lesson.Target) {
	w.tableOf(&exerciseFile, "target")
	w.text("of", string(t.Of))
	if t.Row != nil {
		w.place(*t.Row)
	}
	w.letterIf("shade", t.Shade)
	if t.Least > 0 || math.IsInf(t.Most, 1) {
		w.number("least", t.Least)
	}
	if !math.IsInf(t.Most, 1) {
		w.number("most", t.Most)
	}
}

func (w *writer) hint(h lesson.Hint) {
	w.tableOf(&exerciseFile, "hint")
	w.text("text", h.Text)
	w.textIf("rule", h.Rule)
	switch {
	case h.At != nil:
		w.spot(*h.At)
	case h.On != nil:
		w.place(*h.On)
	}
	w.numberIf("target", float64(h.Target))
}

func (w *writer) onSlot(c sheet.Concern) {
	w.text("rule", c.Rule)
	w.spot(sheet.Spot{At: c.Row, Slot: c.Slot})
}
