package sheetfile

import (
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"slices"

	"example.org/underveil/internal/lesson"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
)

// LoadAttempt reads the attempt in a file. A plain head sheet is one too, of nobody and at any exercise. Its error is as that of Load.
func LoadAttempt(path string) (*lesson.Attempt, []Notice, error) {
	data, bad := read(&attemptFile, path)
	if bad != nil {
		return nil, nil, Errors{bad}
	}
	return DecodeAttempt(path, data)
}

// DecodeAttempt reads an attempt. name is the name of the file, for messages. Its steps are not read: see DecodeProgress. The error is
// an Errors with all that is wrong, each with its place.
func DecodeAttempt(name string, data []byte) (*lesson.Attempt, []Notice, error) {
	return (*Heads)(nil).decodeAttempt(name, data)
}

func (h *Heads) decodeAttempt(name string, data []byte) (*lesson.Attempt, []Notice, error) {
	t, bad := openLesson(&attemptFile, name, data)
	if bad != nil {
		return nil, nil, Errors{bad}
	}
	t.heads = h
	if t.has("head") && !t.has("attempt") {
		s, notices, err := h.decode(name, data, true)
		if err != nil {
			return nil, nil, err
		}
		return &lesson.Attempt{Sheet: s}, notices, nil
	}
	a := &lesson.Attempt{}
	t.attempt(a)
	if err := t.finish(); err != nil {
		return nil, nil, err
	}
	return a, t.notices, nil
}

// DecodeProgress reads an attempt with the steps that led to it, from the start of its exercise.
func DecodeProgress(name string, data []byte, start *sheet.Sheet) (*lesson.Attempt, []Notice, error) {
	t, bad := openLesson(&attemptFile, name, data)
	if bad != nil {
		return nil, nil, Errors{bad}
	}
	a := &lesson.Attempt{}
	if t.attempt(a); len(t.errs) == 0 {
		a.Steps = t.steps(start)
		a.Marks = t.marksGiven()
	}
	if err := t.finish(); err != nil {
		return nil, nil, err
	}
	return a, t.notices, nil
}

// marksGiven reads the marks that were given.
func (t table) marksGiven() (all []lesson.Marked) {
	for _, t := range t.list("mark") {
		all = append(all, t.marked())
	}
	return all
}

func (t table) marked() lesson.Marked {
	var m lesson.Marked
	t.need("date", "met", "of")
	t.date("date", &m.On)
	t.whole("met", bounds{0, 1000, ""}, &m.Met)
	if t.whole("of", bounds{0, 1000, ""}, &m.Of) && m.Met > m.Of {
		t.fail("met", fmt.Sprintf("met %d of %d: more than there are", m.Met, m.Of), "swap the two")
	}
	t.flag("passed", &m.Passed)
	t.whole("hints", bounds{0, 1000, ""}, &m.Hints)
	t.flag("answer_seen", &m.Answered)
	return m
}

// lastMarks are marks as far as a file has room for them: the last, and before them the best of those that are left out.
func lastMarks(all []lesson.Marked) []lesson.Marked {
	out := len(all) - mostMarks + 1
	if out <= 1 {
		return all
	}
	best := slices.MaxFunc(all[:out], func(a, b lesson.Marked) int {
		switch {
		case a.Passed != b.Passed && a.Passed:
			return 1
		case a.Passed != b.Passed:
			return -1
		}
		return cmp.Compare(a.Met*b.Of, b.Met*a.Of)
	})
	return append([]lesson.Marked{best}, all[out:]...)
}

// looked is the mark of a planned slot that was looked at on a training head.
var looked = []sheet.MarkInfo{{Mark: 'o', Words: "looked at"}}

func (t table) attempt(a *lesson.Attempt) {
	if !t.isReadable("attempt") {
		return
	}
	t.about(a)
	a.Sheet = t.sheetIn("result")
	on := a.Sheet
	if on == nil { // which is reported
		on = sheet.New(scalp.Measures{})
	}
	d := &decoder{reader: t.reader, sheet: on}
	for at := range d.marks(&visited{table: t, rows: map[string][]rowAt{}}, "seen", looked) {
		a.Seen = append(a.Seen, at)
	}
	slices.SortFunc(a.Seen, sheet.Spot.Compare)
	first := map[sheet.Spot]int{}
	for _, t := range t.list("found") {
		if c, ok := t.onSlot(on); ok {
			at := sheet.Spot{At: c.Row, Slot: c.Slot}
			again(t, "slot", at, first, at.String()+" is marked", "name one rule for a slot, and take the other out")
			a.Found = append(a.Found, c)
		}
	}
	clear(first)
	for _, t := range t.list("off") {
		if off, ok := t.off(on); ok {
			again(t, "slot", off.Spot, first, off.Spot.String()+" is measured", "take one of the two out")
			a.Off = append(a.Off, off)
		}
	}
}

// off reads how far a bond lies from the middle of its slot.
func (t table) off(on *sheet.Sheet) (off lesson.Off, ok bool) {
	if !t.has("right") && !t.has("up") && !t.misspelt("right") && !t.misspelt("up") {
		t.failHere(t.heading("off")+" does not say how far off", "add "+t.sample("off", "right")+", "+t.sample("off", "up")+", or both, in mm")
	}
	number(t, "right", bounds{-200, 200, " mm"}, &off.Right)
	number(t, "up", bounds{-200, 200, " mm"}, &off.Up)
	spot := t.spot(on)
	if spot == nil {
		t.needPlace()
		return off, false
	}
	off.Spot = *spot
	return off, t.need("slot")
}

// about reads all of an attempt but its sheets and what lies on them.
func (t table) about(a *lesson.Attempt) {
	t.checkKeys()
	t.needTop("attempt", "it is not said which exercise this is an attempt at")
	t.text("attempt", &a.Exercise)
	t.text("learner", &a.Learner)
	t.date("date", &a.Date)
	t.whole("hints", bounds{0, 1000, ""}, &a.Hints)
	t.flag("answer_seen", &a.Answered)
	t.text("assessor", &a.Assessor)
	t.date("signed", &a.On)
	t.text("seal", &a.Seal)
}

// attemptRemark is the first line of every attempt that is written.
const attemptRemark = "# Underveil attempt."

// EncodeAttempt writes an attempt in the one shape that it has. start is the sheet that its steps begin with; nil leaves out steps and
// marks, as when it is handed in.
func EncodeAttempt(a *lesson.Attempt, start *sheet.Sheet) []byte {
	w := &writer{}
	w.WriteString(attemptRemark + "\n")
	w.number("format", formatNow)
	w.text("attempt", a.Exercise)
	w.textIf("learner", a.Learner)
	w.dateIf("date", a.Date)
	w.numberIf("hints", float64(a.Hints))
	w.flagIf("answer_seen", a.Answered)
	w.textIf("assessor", a.Assessor)
	w.dateIf("signed", a.On)
	w.textIf("seal", a.Seal)
	seen := sheet.Marks{}
	for _, at := range a.Seen {
		seen[at] = looked[0].Mark
	}
	w.lines("seen", marksTexts(seen))
	for _, c := range a.Found {
		w.tableOf(&attemptFile, "found")
		w.onSlot(c)
	}
	for _, off := range a.Off {
		w.tableOf(&attemptFile, "off")
		w.spot(off.Spot)
		w.number("right", float64(off.Right))
		w.number("up", float64(off.Up))
	}
	w.tableOf(&attemptFile, "result")
	w.nest("sheet", string(Encode(a.Sheet)))
	if start != nil {
		for _, m := range lastMarks(a.Marks) {
			w.tableOf(&attemptFile, "mark")
			w.dateIf("date", m.On)
			w.number("met", float64(m.Met))
			w.number("of", float64(m.Of))
			w.flagIf("passed", m.Passed)
			w.numberIf("hints", float64(m.Hints))
			w.flagIf("answer_seen", m.Answered)
		}
		w.steps(&attemptFile, start, a.Steps)
	}
	return w.Bytes()
}

// Seal is a digest over all that an assessor signs: the attempt as it is written, without the seal itself. Whoever changes the
// attempt afterwards breaks it; who signed it does not prove.
func Seal(a *lesson.Attempt) string {
	signed := *a
	signed.Seal = ""
	sum := sha256.Sum256(EncodeAttempt(&signed, nil))
	return hex.EncodeToString(sum[:8])
}

// GlanceProgress reads who an attempt is by and how it was marked, and leaves its sheets unread.
func GlanceProgress(path string) (*lesson.Attempt, error) {
	data, bad := read(&attemptFile, path)
	if bad != nil {
		return nil, Errors{bad}
	}
	t, bad := openLesson(&attemptFile, path, data)
	if bad != nil {
		return nil, Errors{bad}
	}
	a := &lesson.Attempt{}
	if t.isReadable("attempt") {
		t.about(a)
		a.Marks = t.marksGiven()
	}
	if err := t.finish(); err != nil {
		return nil, err
	}
	return a, nil
}
