package sheetfile

import (
	"fmt"
	"slices"
	"strings"

	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
)

// Sheets within a lesson stand in the file as they are, between three single quotes.
const literal = "'''"

// between is where the text between three quotes under a key stands.
func (t table) between(key string) (at span, ok bool) {
	at = t.at(key).value
	_, isText := t.values[key].(string)
	if text := at.of(t.document.text); !isText || !strings.HasPrefix(text, literal) || len(text) < 2*len(literal) {
		t.fail(key, inWords(key)+" should be text between three single quotes", howNested(key))
		return span{}, false
	}
	at.from, at.to = at.from+len(literal), at.to-len(literal)
	for _, lineBreak := range []string{"\n", "\r\n"} { // which follows the quotes and does not belong to the text
		if strings.HasPrefix(at.of(t.document.text), lineBreak) {
			at.from += len(lineBreak)
			break
		}
	}
	return at, true
}

// within reads the text under a key as far as its keys and values, as a file of its own. Its places are those in the whole file.
func (t table) within(key string, kind *schema) (table, bool) {
	at, ok := t.between(key)
	if !ok {
		return table{}, false
	}
	d := &document{schema: kind, file: t.file, text: t.document.text, source: t.source}
	found, values, wrong := d.part(at)
	if wrong != nil {
		t.reader.fail(wrong.at, wrong.problem, wrong.remedy)
		return table{}, false
	}
	return table{reader: &reader{document: d, places: found, heads: t.heads}, path: root, values: values}, true
}

// part finds the keys and values of a part of a text.
func (d *document) part(at span) (found places, values map[string]any, wrong *trouble) {
	alone := &document{schema: d.schema, file: d.file, text: at.of(d.text)}
	moved := at.from
	if found, _, wrong = alone.locate(); wrong != nil {
		// Once more, as many lines down as it stands: what is wrong may name a line.
		line, _ := d.lineAt(at.from)
		alone.text = strings.Repeat("\n", line-1) + alone.text
		moved -= line - 1
		_, _, wrong = alone.locate()
	} else {
		values, wrong = alone.parse()
	}
	if wrong != nil {
		wrong.at = wrong.at.moved(moved)
		return nil, nil, wrong
	}
	for p, stands := range found {
		stands.key, stands.value = stands.key.moved(moved), stands.value.moved(moved)
		found[p] = stands
	}
	return found, values, nil
}

func (s span) moved(by int) span { return span{s.from + by, s.to + by} }

// sheetIn reads the sheet of a table that there has to be; nil if it is not right.
func (t table) sheetIn(name string) *sheet.Sheet {
	if !t.has(name) && !t.misspelt(name) {
		t.failHere("there is no "+t.heading(name)+", and so no sheet", "add "+t.heading(name)+"; under it "+howNested("sheet"))
	}
	in, ok := t.sub(name)
	if !ok {
		return nil
	}
	return in.nestedSheet("sheet")
}

// howNested is how a text between three quotes is written.
func howNested(key string) string {
	lines := "what is different"
	if key == "sheet" {
		lines = "the lines of a head sheet"
	}
	return "write " + key + " = " + literal + ", below it " + lines + ", and then " + literal
}

// nestedSheet reads a whole sheet that stands under a key; nil if it is not right.
func (t table) nestedSheet(key string) *sheet.Sheet {
	if !t.has(key) {
		if !t.misspelt(key) {
			t.failHere(t.heading(t.name)+" has no "+key, howNested(key))
		}
		return nil
	}
	inner, ok := t.within(key, &headSheet)
	if !ok {
		return nil
	}
	if len(inner.values) == 0 {
		t.fail(key, "there is no sheet between the quotes", howNested(key))
		return nil
	}
	var s *sheet.Sheet
	if inner.isKind("head", "put the lines of a head sheet here") {
		s = inner.decode()
	}
	t.adopt(inner.reader)
	return s
}

// nestedChanges reads what is different from a draft, and what it took to do so; ok is false if it is not right. Without the key nothing
// is different.
func (t table) nestedChanges(key string, before draft) (after draft, spent effort, ok bool) {
	if !t.has(key) {
		return before, effort{}, true
	}
	change, ok := t.within(key, &changesFile)
	if !ok || len(change.values) == 0 {
		return before, effort{}, ok
	}
	gone, ok := change.gone()
	if !ok {
		t.adopt(change.reader)
		return before, effort{}, false
	}
	after, whole, spent := before.after(change, gone)
	t.aboutBefore(key, change, whole.reader)
	t.adopt(whole.reader)
	return after, spent, after.sheet != nil
}

// decode makes a sheet of the keys and values of one; nil if it is not right.
func (t table) decode() *sheet.Sheet {
	d := &decoder{reader: t.reader, sheet: sheet.New(scalp.Measures{}), fits: true}
	d.sheet.Hair = sheet.Hair{}
	if d.all(t); len(d.errs) > 0 {
		return nil
	}
	return d.sheet
}

// adopt takes over what was found in a text within this one.
func (r *reader) adopt(inner *reader) {
	r.errs = append(r.errs, inner.errs[:min(len(inner.errs), mostErrors-len(r.errs))]...)
	r.notices = append(r.notices, inner.notices...)
}

// aboutBefore puts what was found at the beginning of the file, and is about what a change left as it was, to the key of the change.
func (t table) aboutBefore(key string, change table, found *reader) {
	besides := ""
	for _, name := range headSheet.keysIn[""] {
		if name != "row" && headSheet.most[name] > 0 && change.has(name) {
			besides = "; " + headSheet.heading(name) + " in " + key + " takes the place of all of them"
		}
	}
	told := map[string]bool{}
	for i, e := range found.errs {
		if e.Line > 1 || e.Col > 1 {
			continue
		}
		found.errs[i] = nil
		if !told[e.Problem] {
			found.errs[i] = t.fault(t.at(key).key, "with these "+key+" the sheet is wrong: "+e.Problem, e.Remedy+besides)
		}
		told[e.Problem] = true
	}
	found.errs = slices.DeleteFunc(found.errs, func(e *Error) bool { return e == nil })
	found.notices = slices.DeleteFunc(found.notices, func(n Notice) bool { return n.Line == 1 }) // told when it was read first
}

// nest writes a text between three quotes. In a sheet they can stand in text only, where one of them can be escaped.
func (w *writer) nest(key, text string) {
	text = strings.ReplaceAll(text, literal, `''\u0027`)
	w.WriteString(key + " = " + literal + "\n" + strings.TrimRight(text, "\n") + "\n" + literal + "\n")
}

// tableOf begins a table of another kind of file than a sheet.
func (w *writer) tableOf(kind *schema, name string) { fmt.Fprintf(w, "\n%s\n", kind.heading(name)) }
