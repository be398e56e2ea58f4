package tui

import (
	"path/filepath"
	"strings"

	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/unit"
)

// inUnit is a text of the program's own with its lengths in the unit in force. What is wrapped, measured or laid out in
// columns goes through it first, and so the painter does not do it. What stands in the text as somebody typed it, a name or
// a reason, stays as it was written.
func (m *Model) inUnit(text string) string {
	u := m.opts.Units
	if u == unit.MM {
		return text
	}
	return unit.In(text, u, m.typedTexts()...)
}

// wrapIn breaks a text with its lengths in the unit in force into lines of at most width cells.
func (m *Model) wrapIn(text string, width int) []string { return wrap(m.inUnit(text), width) }

// typedTexts are the texts with a length in them that somebody typed, and that may stand in a sentence: those of the sheet, its
// file's name, and the names of strands in stock.
func (m *Model) typedTexts() []string {
	if m.doc == nil {
		return nil
	}
	t, s := &m.typed, m.doc.sheet()
	if t.of == s && t.other == m.other && t.path == m.doc.path {
		return t.texts
	}
	*t = typedOn{of: s, other: m.other, path: m.doc.path}
	texts := append(s.Typed(), t.path, filepath.Base(t.path), m.opts.From)
	if m.other != nil {
		texts = append(texts, m.other.sheet().Typed()...)
	}
	if st := m.opts.Studio; st != nil {
		for _, strand := range st.Strands {
			texts = append(texts, strand.Name, strand.Toned)
		}
	}
	for _, text := range texts {
		if strings.Contains(text, "mm") {
			t.texts = append(t.texts, text)
		}
	}
	return t.texts
}

// typedOn are the typed texts on a sheet that hold the letters of the unit, looked for once.
type typedOn struct {
	of    *sheet.Sheet
	other *document // beside it
	path  string
	texts []string
}

// inWords is a text about a field or an item of a length, with the unit in force where it says mm without a number:
// "mm, round the widest part".
func (m *Model) inWords(text string) string {
	if m.opts.Units == unit.MM {
		return text
	}
	words := strings.Split(m.inUnit(text), " ")
	for i, w := range words {
		counted := i > 0 && strings.Trim(words[i-1], "0123456789.") == "" // and left so: "25 mm of scalp"
		if strings.TrimRight(w, ",;:.") == "mm" && !counted {
			words[i] = m.opts.Units.Word() + w[len("mm"):]
		}
	}
	return strings.Join(words, " ")
}
