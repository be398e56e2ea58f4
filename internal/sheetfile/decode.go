package sheetfile

import (
	"fmt"
	"slices"

	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
)

// Decode reads a sheet. name is the name of the file, for messages. Free text that could harm a terminal is made safe,
// with a notice, and a last notice tells of remarks that saving will lose. The error is an Errors with all that is wrong, each with its place.
//
// A sheet that is read fits its head: there is a slot table for it, and each row lies on a line of its map; and each of its
// visits can follow from those before it. Whether bonds are where they should be is for the rules to say.
func Decode(name string, data []byte) (*sheet.Sheet, []Notice, error) {
	return decode(name, data, true)
}

// decode reads a sheet, and fits it to its head or leaves that.
func decode(name string, data []byte, fits bool) (*sheet.Sheet, []Notice, error) {
	return (*Heads)(nil).decode(name, data, fits)
}

func (h *Heads) decode(name string, data []byte, fits bool) (*sheet.Sheet, []Notice, error) {
	t, remark, bad := open(&headSheet, name, data)
	if bad != nil {
		return nil, nil, Errors{bad}
	}
	t.heads = h
	d := &decoder{reader: t.reader, sheet: sheet.New(scalp.Measures{}), fits: fits}
	d.sheet.Hair = sheet.Hair{} // of a client's own hair nothing is taken for granted
	d.all(t)
	if len(d.errs) > 0 {
		d.errs.sort()
		return nil, nil, d.errs
	}
	if remark >= 0 {
		line, _ := d.lineAt(remark)
		d.notices = append(d.notices, Notice{Line: line, Text: RemarksLost})
	}
	return d.sheet, d.notices, nil
}

// RemarksLost is the notice about a sheet with remarks of its own, at the first of them. The first line and the one
// that every saved sheet begins with do not count.
const RemarksLost = "remarks after # are not kept when the sheet is saved"

// decoder makes a sheet of what the reader reads.
type decoder struct {
	*reader
	sheet *sheet.Sheet
	fits  bool         // the sheet is fitted to its head
	head  *scalp.Head  // nil while the tapes are not right or not fitted
	table *slots.Table // for the lines of the map; nil while anything that it depends on is not right
}

func (d *decoder) all(t table) {
	if !d.format(t) {
		return
	}
	t.checkKeys()
	s := d.sheet
	t.text("title", &s.Title)
	t.text("client", &s.Client)
	t.date("date", &s.Date)
	t.notes("notes", &s.Notes)
	words(t, "worn", sheet.Wears, &s.Worn)
	words(t, "wish", sheet.Looks, &s.Wish)
	d.hair(t)
	d.consultation(t)
	d.amounts(t)
	s.Limits = t.limits()
	d.partings(t)
	d.onHead(t)
	known := d.shades(t)
	d.rows(t, known)
	d.accepted(t)
	d.visits(t, known)
}

// format sees to it that this is a sheet, of a format that can be read; if not, there is no use in going on.
func (d *decoder) format(t table) bool {
	for _, other := range []struct{ key, called, remedy string }{
		{string(ExerciseKind), "an exercise", "underveil practise opens it"},
		{string(AttemptKind), "an attempt at an exercise", "underveil and its name open it in the editor, beside what was asked for"},
		{string(ScriptKind), "a demonstration", "underveil demonstrate goes through it"},
		{"limits_of", "a file of limits", "give it with --limits"},
		{"keys", "a settings file", "underveil settings tells what is set"},
	} {
		if t.has(other.key) && !t.has("head") {
			t.failHere("this is "+other.called+", not a head sheet", other.remedy)
			return false
		}
	}
	switch {
	case !t.has("head") && (t.has("currency") || t.has("strand")):
		t.failHere("this is a studio file, not a head sheet", "give the name of a head sheet")
		return false
	case !t.has("format") && !t.has("head") && t.hasTables():
		none := []string{"format", "[head]"}
		if !t.has("shade") {
			none = append(none, "[[shade]]")
		}
		t.failHere("this is only a part of a head sheet: it has no "+orList(none),
			"begin the file with format = 1, then [head] with its four measures and [[shade]]; or make a new sheet and edit that")
		return false
	case !t.has("format") && !t.has("head"):
		t.failHere("this is not a head sheet: it has no format and no [head]", "is it another file?")
		return false
	}
	return t.isFormatNow()
}

// isFormatNow sees to it that the file is of the format that can be read. One that does not say so may be.
func (t table) isFormatNow() bool {
	if !t.has("format") {
		t.failHere("there is no format, which says how the "+t.short+" is written", "add the line format = 1 at the top")
		return true
	}
	newest := 0
	switch ok := t.whole("format", bounds{0, 1e6, ""}, &newest); {
	case !ok:
	case newest > formatNow:
		t.fail("format", "this "+t.short+" is made by a newer Underveil", "update, or ask for the "+t.short+" in format 1")
	case newest < formatNow:
		t.failLike("format", fmt.Sprintf("there is no format %d", newest))
	}
	return newest == formatNow
}

// hasTables reports whether there is any table of the kind of file.
func (t table) hasTables() bool {
	return slices.ContainsFunc(t.keysIn[""], func(key string) bool { return t.isTable(key) && t.has(key) })
}

// limits reads [limits]; nil if there are none.
func (t table) limits() map[sheet.LimitName]float64 {
	limits, ok := t.sub("limits")
	if !ok {
		return nil
	}
	var set map[sheet.LimitName]float64
	for _, info := range sheet.Limits {
		v := 0.0
		if number(limits, string(info.Name), bounds{info.Low, info.High, " " + info.Unit}, &v) {
			if set == nil {
				set = map[sheet.LimitName]float64{}
			}
			set[info.Name] = v
		}
	}
	return set
}

func (d *decoder) partings(t table) {
	usual := d.sheet.Partings[0]
	d.sheet.Partings = nil
	for _, p := range t.list("parting") {
		parting := usual
		number(p, "right", bounds{-80, 80, " mm"}, &parting.Right)
		number(p, "length", bounds{0, 250, " mm"}, &parting.Length)
		d.sheet.Partings = append(d.sheet.Partings, parting)
	}
}
