package sheetfile

import (
	"fmt"
	"slices"

	"example.org/underveil/internal/fibre"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
)

// Decode reads a sheet. name is the name of the file, for messages. Free text that could harm a terminal is made safe,
// with a notice, and a last notice tells of remarks that saving will lose. The error is an Errors with all that is wrong, each with its place.
//
// A sheet that is read fits its head: there is a slot table for it, and each row lies on a line of its map. Whether
// bonds are where they should be is for the rules to say.
func Decode(name string, data []byte) (*sheet.Sheet, []Notice, error) {
	doc, bad := newDocument(name, data)
	if bad != nil {
		return nil, nil, Errors{bad}
	}
	found, remark, wrong := locate(doc.text)
	var values map[string]any
	if wrong == nil {
		values, wrong = parse(doc.text)
	}
	if wrong != nil {
		return nil, nil, Errors{doc.fault(wrong.at, wrong.problem, wrong.remedy)}
	}
	d := &decoder{reader: &reader{document: doc, places: found}, sheet: sheet.New(scalp.Measures{})}
	d.sheet.Hair = sheet.Hair{} // of a client's own hair nothing is taken for granted
	d.all(table{reader: d.reader, path: root, values: values})
	if len(d.errs) > 0 {
		d.errs.sort()
		return nil, nil, d.errs
	}
	if remark >= 0 {
		line, _ := doc.lineAt(remark)
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
	head  *scalp.Head  // nil while the tapes are not right
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
	if hair, ok := t.sub("hair"); ok {
		number(hair, "length", bounds{0, 2000, " mm"}, &s.Hair.Length)
		word(hair, "density", sheet.Densities, &s.Hair.Density)
		number(hair, "ponytail", bounds{float64(sheet.MinPonytail), float64(sheet.MaxPonytail), " mm"}, &s.Hair.Ponytail)
		number(hair, "count", bounds{float64(fibre.LeastDensity), float64(fibre.MostDensity), " hairs/cm²"}, &s.Hair.Count)
		word(hair, "texture", sheet.Textures, &s.Hair.Texture)
	}
	d.limits(t)
	d.partings(t)
	d.onHead(t)
	known := d.shades(t)
	d.rows(t, known)
	d.accepted(t)
}

// format sees to it that this is a sheet, of a format that can be read; if not, there is no use in going on.
func (d *decoder) format(t table) bool {
	switch {
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
	case !t.has("format"):
		t.failHere("there is no format, which says how the sheet is written", "add the line format = 1 at the top")
		return true
	}
	newest := 0
	switch ok := t.whole("format", bounds{0, 1e6, ""}, &newest); {
	case !ok:
	case newest > formatNow:
		t.fail("format", "this sheet is made by a newer Underveil", "update, or ask for the sheet in format 1")
	case newest < formatNow:
		t.failLike("format", fmt.Sprintf("there is no format %d", newest))
	}
	return newest == formatNow
}

// hasTables reports whether there is any table of a sheet.
func (t table) hasTables() bool {
	return slices.ContainsFunc(keysIn[""], func(key string) bool { return isTable(key) && t.has(key) })
}

func (d *decoder) limits(t table) {
	limits, ok := t.sub("limits")
	if !ok {
		return
	}
	for _, info := range sheet.Limits {
		v := 0.0
		if number(limits, string(info.Name), bounds{info.Low, info.High, " " + info.Unit}, &v) {
			if d.sheet.Limits == nil {
				d.sheet.Limits = map[sheet.LimitName]float64{}
			}
			d.sheet.Limits[info.Name] = v
		}
	}
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
