package sheetfile

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"

	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/sheet"
)

// draft is a sheet on its way through the changes of a lesson, together with the keys and values of its file, to which they are made.
type draft struct {
	sheet  *sheet.Sheet
	values map[string]any
}

// changesFile is the schema of changes: that of a sheet, which may take away besides.
var changesFile = func() schema {
	s := headSheet
	s.short = "change"
	s.keysIn, s.example = maps.Clone(s.keysIn), maps.Clone(s.example)
	s.keysIn[""] = append(slices.Clip(s.keysIn[""]), withoutKey)
	s.example[withoutKey] = `["notes", "limits"]`
	return s
}()

// draftOf is a sheet before any change. It is one that Decode takes, and so are its keys and values.
func draftOf(s *sheet.Sheet) (draft, *trouble) {
	values, wrong := (&document{schema: &headSheet, text: string(Encode(s))}).parse()
	return draft{s, values}, wrong
}

// with is the file of a draft after a change, as a table to decode. What stays as it is has no place in the file of the change: it is
// found at its very beginning, where no change can stand.
func (d draft) with(change table, gone []string) table {
	after := change
	after.values = maps.Clone(d.values)
	for _, key := range gone {
		delete(after.values, key)
	}
	if slices.Contains(gone, "shade") {
		after.values["shade"] = []any{} // or Decode would take the shade of a new sheet
	}
	for key, v := range change.values {
		if key != withoutKey && key != "row" {
			after.values[key] = v
		}
	}
	after.reader = &reader{document: change.document, heads: change.heads, places: maps.Clone(change.places)}
	after.places[root] = place{}
	if change.has("row") {
		after.rowsAfter(d.values["row"], change.values["row"])
	}
	return after
}

// lasting are the parts of a sheet that take longest to read, each with all that it depends on. One stays as it was read where a change
// speaks of none of that.
var lasting = []struct {
	part    string
	depends []string
	keep    func(from, to *sheet.Sheet)
}{
	{"row", []string{"row", "shade", "head", "hairline", "hole_spacing", "aside", "line_gap"}, func(from, to *sheet.Sheet) { to.Rows = from.Rows }},
	{"accept", []string{"accept", "hole_spacing", "line_gap"}, func(from, to *sheet.Sheet) { to.Accepted = from.Accepted }},
	{"visit", visitsDepend, func(from, to *sheet.Sheet) { to.Visits = from.Visits }},
}

var visitsDepend = []string{"visit", "shade", "hole_spacing", "line_gap"}

// after is a draft after a change, and what it took to read it. The sheet is nil, and what is wrong is told in the table that is returned.
func (d draft) after(change table, gone []string) (after draft, whole table, spent effort) {
	whole = d.with(change, gone)
	after.values = whole.values
	whole.values = maps.Clone(whole.values)
	touched := append(slices.Collect(maps.Keys(change.values)), gone...)
	var keep []func(from, to *sheet.Sheet)
	for _, l := range lasting {
		if !slices.ContainsFunc(l.depends, func(key string) bool { return slices.Contains(touched, key) }) {
			delete(whole.values, l.part)
			keep = append(keep, l.keep)
		}
	}
	if after.sheet = whole.decode(); after.sheet == nil {
		return after, whole, effort{}
	}
	for _, keep := range keep {
		keep(d.sheet, after.sheet)
	}
	return after, whole, effort{sizeOf(whole.values) + marksTake*sizeOf(whole.values["visit"]), fitsBetween(d.sheet, after.sheet)}
}

// rowsAfter puts changed rows into the place of those that lie where they do, and takes those without bonds away.
func (t table) rowsAfter(before, change any) {
	old, _ := tablesIn(before)
	changed, ok := tablesIn(change)
	if !ok {
		t.values["row"] = change // which will not do
		return
	}
	list := root.key("row")
	rows, stays := t.laid(list, changed, old)
	t.reader.places = t.places.renumbered(list, stays)
	for _, o := range old {
		if !liesIn(changed, o) {
			t.places[list.item(len(rows))] = place{}
			rows = append(rows, o)
		}
	}
	t.values["row"] = rows
}

// laid are the changed rows that there are afterwards, and where in that list each of them comes to stand, or -1. A row without bonds
// that takes none away, or that is there once more, is taken for one of empty slots: where it lies is looked at, and it is dropped.
func (t table) laid(list path, changed, old []map[string]any) (rows []map[string]any, stays []int) {
	for i, r := range changed {
		if r["bonds"] == "" {
			others := slices.Delete(slices.Clone(changed), i, i+1)
			if liesIn(old, r) && !liesIn(others, r) {
				t.child("row", list.item(i), r) // checks its keys
				stays = append(stays, -1)
				continue
			}
			r = maps.Clone(r)
			r["bonds"] = "(.)"
		}
		stays = append(stays, len(rows))
		rows = append(rows, r)
	}
	return rows, stays
}

// liesIn reports whether one of some rows lies where another does.
func liesIn(rows []map[string]any, r map[string]any) bool {
	return slices.ContainsFunc(rows, func(o map[string]any) bool { return samePlace(o, r) })
}

// renumbered are the places with those in the elements of a list where the elements come to stand; below 0 is nowhere.
func (p places) renumbered(list path, stays []int) places {
	moved := make(places, len(p))
	for at, stands := range p {
		if rest, within := strings.CutPrefix(string(at), string(list)+itemMark); within {
			number := rest[:len(rest)-len(strings.TrimLeft(rest, "0123456789"))]
			i, err := strconv.Atoi(number)
			if err != nil || i >= len(stays) || stays[i] < 0 {
				continue
			}
			at = list.item(stays[i]) + path(rest[len(number):])
		}
		moved[at] = stands
	}
	return moved
}

// tablesIn are the tables of a list, however it is written.
func tablesIn(v any) (list []map[string]any, ok bool) {
	switch v := v.(type) {
	case []map[string]any:
		return slices.Clone(v), true
	case []any:
		for _, v := range v {
			t, ok := v.(map[string]any)
			if !ok {
				return nil, false
			}
			list = append(list, t)
		}
		return list, true
	}
	return nil, false
}

// samePlace reports whether two rows lie at one place.
func samePlace(a, b map[string]any) bool {
	for _, key := range []string{"height", "along"} {
		if (a[key] == nil) != (b[key] == nil) {
			return false
		}
		if a[key] == nil {
			continue
		}
		at, wrong := asLength(a[key])
		other, wrongToo := asLength(b[key])
		if wrong != "" || wrongToo != "" || math.Abs(at-other) >= 1e-6 {
			return false
		}
	}
	return true
}

// gone reads what a change takes away.
func (t table) gone() (gone []string, ok bool) {
	if !t.has(withoutKey) {
		return nil, true
	}
	list, isList := t.values[withoutKey].([]any)
	if !isList {
		t.wrong(withoutKey, "a list of keys and tables")
		return nil, false
	}
	for i, v := range list {
		problem, remedy := whyStays(v)
		if problem != "" {
			t.reader.fail(t.places.find(t.path.key(withoutKey).item(i)).value, withoutKey+": "+problem, remedy)
			continue
		}
		gone = append(gone, v.(string))
	}
	return gone, len(t.errs) == 0
}

// needed are the keys of the top that no change takes away.
var needed = []string{"format", "title", "head"}

// whyStays says why a change cannot take something away, or nothing.
func whyStays(v any) (problem, remedy string) {
	name, ok := v.(string)
	known := headSheet.keysIn[""]
	switch {
	case !ok:
		return "there is " + kindOf(v) + " in the list, and should be text", "write it like " + changesFile.sample("", withoutKey)
	case name == "row":
		return "rows are taken away one by one", "write " + headSheet.heading("row") + " with where it lies and bonds = \"\""
	case slices.Contains(needed, name):
		return fmt.Sprintf("a sheet needs its %s", name), "take it out of the list, or give it anew"
	case !slices.Contains(known, name):
		may := slices.DeleteFunc(slices.Clone(known), func(k string) bool { return k == "row" || slices.Contains(needed, k) })
		return "a sheet has no " + printable.Quote(name) + aside(name), oneOf(name, may)
	}
	return "", ""
}
