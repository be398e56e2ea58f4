package tui

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/underveil/internal/cells"
	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/shade"
	"example.org/underveil/internal/unit"
)

// form is a dialog of fields. Up and down go from field to field, typing
// replaces what stands in a field, Enter takes the form, Esc leaves it.
type form struct {
	title   string
	note    string // below the fields
	fields  []*field
	at      int
	problem string
	long    bool // many things are typed one after another: Enter after typing goes on to the next
	top     int  // the field shown first, where not all have room
	// own obeys the keys that mean something in this form alone, and reports whether this was one; it may be nil.
	own func(*Model, *form, tea.KeyMsg) bool
	// take uses the form. An error keeps it open and is shown.
	take func(*Model, *form) (tea.Cmd, error)
}

// field is one line of a form: a text, one choice of several, or any of several.
type field struct {
	name    string
	hint    string // shown while the field is in use
	input   textinput.Model
	typed   bool // something was typed since the field was entered
	options []string
	chosen  int    // of options, for one choice
	marked  []bool // of options, for any of them; nil for one choice
	sub     int    // the option that left and right have reached
	changed func(*form)
	unit    string // of a number: "mm" is a length, in whatever unit it is typed; empty for a bare number

	units  unit.Unit // that a length is shown in, and typed in without one
	shown  string    // a length as it was put into the field, and
	stored string    // as it is in mm, which it stays while nothing else is typed
}

// in is the field with another unit of its number, or with none.
func (f *field) in(unit string) *field {
	f.unit = unit
	return f
}

// textField is a field to type into.
func textField(name, value, hint string) *field {
	in := textinput.New()
	in.Prompt, in.CharLimit = "", 4000
	in.SetValue(value)
	in.CursorEnd()
	in.Focus()
	return &field{name: name, hint: hint, input: in}
}

// numberField is a field for a length in mm.
func numberField(name string, value float64, hint string) *field {
	return textField(name, plainNumber(value), hint).in("mm")
}

// put puts a text into the field: of a length as it is typed where mm are in force. It is shown in the unit in force.
func (f *field) put(text string) {
	f.shown, f.stored = "", ""
	if v, err := unit.Length(text); err == nil && f.unit == "mm" && f.units != unit.MM {
		f.stored, f.shown = text, unit.Plain(v, f.units)
		text = f.shown
	}
	f.input.SetValue(text)
	f.input.CursorEnd()
}

// kept is what stands in the field so that put puts it there again.
func (f *field) kept() string {
	text := f.input.Value()
	_, err := unit.Length(text)
	switch {
	case f.unit != "mm" || f.units == unit.MM || err != nil:
		return text
	case text == f.shown:
		return f.stored
	case bare(text):
		return text + " " + f.units.String()
	}
	return text
}

// bare reports whether a length is typed without a unit.
func bare(text string) bool { return strings.TrimRight(text, "0123456789.,") != text }

// showIn shows the lengths of the form in a unit.
func (fm *form) showIn(u unit.Unit) {
	for _, f := range fm.fields {
		if f.units != u {
			text := f.kept()
			f.units = u
			f.put(text)
		}
	}
}

// plainNumber is a number with all its digits and no exponent.
func plainNumber(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// choiceField is a field with one choice of several.
func choiceField(name string, options []string, chosen string, hint string) *field {
	f := &field{name: name, options: options, hint: hint}
	for i, o := range options {
		if o == chosen {
			f.chosen = i
		}
	}
	return f
}

// marksField is a field with any choice of several.
func marksField(name string, options []string, on func(string) bool, hint string) *field {
	f := &field{name: name, options: options, hint: hint, marked: make([]bool, len(options))}
	for i, o := range options {
		f.marked[i] = on(o)
	}
	return f
}

// text is what was typed or pasted, made safe to show as it would be on reading the file.
func (f *field) text() string { return strings.TrimSpace(printable.Line(f.input.Value())) }

// number reads the field as a number within a range.
func (f *field) number(low, high float64) (float64, error) {
	v, err := f.parse(f.text())
	switch {
	case err == nil && v >= low && v <= high:
		return v, nil
	case f.unit == "mm":
		return 0, &fieldError{f.name, f.between(low, high) + "; one in " + otherUnits[f.units].names + " is typed like " + otherUnits[f.units].like}
	}
	return 0, &fieldError{f.name, fmt.Sprintf("a number from %g to %g", low, high)}
}

// otherUnits are the units besides the one in force, and how a length is typed in them.
var otherUnits = map[unit.Unit]struct{ names, like string }{
	unit.MM:   {"cm or inches", "56 cm or 22 in"},
	unit.CM:   {"mm or inches", "560 mm or 22 in"},
	unit.Inch: {"mm or cm", "560 mm or 56 cm"},
}

// between is the range of a length in the unit in force. What it says fits, for an end between two figures is rounded inwards.
func (f *field) between(low, high float64) string {
	per := f.units.MM()
	to := 1e2
	if f.units == unit.MM || high-low < per { // a small figure takes more decimals
		to = 1e4
	}
	const dust = 1e-9                                                                                                          // of the division
	return fmt.Sprintf("a length from %g to %g %s", math.Ceil(low/per*to-dust)/to+0, math.Floor(high/per*to+dust)/to, f.units) // +0, for there is no -0
}

// whole reads the field as a whole number within a range.
func (f *field) whole(low, high float64) (float64, error) {
	v, err := f.number(low, high)
	if err == nil && (v != math.Trunc(v) || strings.Contains(f.text(), ",")) {
		err = &fieldError{f.name, fmt.Sprintf("a whole number from %g to %g", low, high)}
	}
	return v, err
}

// numberIfKnown reads the field as a number within a range, or as 0 where it is empty or 0: nobody has measured it.
func (f *field) numberIfKnown(low, high float64) (float64, error) {
	if v, err := f.parse(f.text()); f.text() == "" || err == nil && v == 0 {
		return 0, nil
	}
	v, err := f.number(low, high)
	if err != nil {
		what := fmt.Sprintf("a number from %g to %g", low, high)
		if f.unit == "mm" {
			what = f.between(low, high) + ", or with its unit like " + otherUnits[f.units].like
		}
		return 0, &fieldError{f.name, what + "; empty where it is not known"}
	}
	return v, nil
}

// colour reads the field as a reading of a colour, or as none where it is empty.
func (f *field) colour() (shade.Reading, error) {
	r, err := shade.Read(f.text())
	if err != nil {
		return "", &fieldError{f.name, err.Error()}
	}
	return r, nil
}

// echo says in the unit in force a length that is typed with another one, and which that is where none is typed; in mm, as what is
// typed there is mostly meant, nothing.
func (f *field) echo() string {
	text := f.text()
	v, err := f.parse(text)
	switch {
	case f.unit != "mm" || err != nil || strings.HasSuffix(text, f.units.String()):
		return ""
	case bare(text) && f.units == unit.MM:
		return ""
	case bare(text):
		return f.units.String()
	case f.units == unit.MM:
		return "= " + plainNumber(v) + " mm"
	}
	return "= " + unit.Plain(scalp.MM(v), f.units)
}

// parse reads a number with its unit, if it has one.
func (f *field) parse(text string) (float64, error) {
	if f.unit == "mm" {
		read, in := text, f.units
		if text != "" && text == f.shown {
			read, in = f.stored, unit.MM
		}
		length, err := unit.Read(read, in)
		return float64(length), err
	}
	text = strings.TrimSpace(strings.TrimSuffix(strings.ReplaceAll(text, ",", "."), f.unit))
	return strconv.ParseFloat(text, 64)
}

// fieldError says which field is wrong, so that the form can go there.
type fieldError struct{ field, wants string }

func (e *fieldError) Error() string { return e.field + ": " + e.wants }

func (f *field) choice() string { return f.options[f.chosen] }

// key changes the field.
func (f *field) key(fm *form, msg tea.KeyMsg) {
	switch {
	case f.options == nil:
		f.typeKey(msg)
	case f.marked != nil:
		f.markKey(msg)
	default:
		f.choiceKey(msg)
	}
	if f.changed != nil {
		f.changed(fm)
	}
}

// choiceKey goes through the options, or with a letter to the next that begins with it.
func (f *field) choiceKey(msg tea.KeyMsg) {
	n := len(f.options)
	switch k := msg.String(); {
	case k == "left":
		f.chosen = (f.chosen + n - 1) % n
	case k == "right" || k == " ":
		f.chosen = (f.chosen + 1) % n
	case len(msg.Runes) == 1:
		for i := 1; i <= n; i++ {
			if next := (f.chosen + i) % n; strings.HasPrefix(f.options[next], k) {
				f.chosen = next
				return
			}
		}
	}
}

// typeKey types into a text. The first letter typed replaces what was there, as
// with text that is selected.
func (f *field) typeKey(msg tea.KeyMsg) {
	if !f.typed && (msg.Type == tea.KeyRunes || msg.Type == tea.KeySpace) {
		f.input.SetValue("")
	}
	f.typed = true
	f.input, _ = f.input.Update(msg)
}

func (f *field) markKey(msg tea.KeyMsg) {
	switch msg.String() {
	case "left":
		f.sub = max(0, f.sub-1)
	case "right":
		f.sub = min(len(f.options)-1, f.sub+1)
	case " ":
		f.marked[f.sub] = !f.marked[f.sub]
	}
}

func (fm *form) key(m *Model, msg tea.KeyMsg) tea.Cmd {
	if fm.own != nil && fm.own(m, fm, msg) {
		return nil
	}
	switch msg.String() {
	case "esc", "ctrl+c":
		m.pop()
	case "enter":
		if fm.long && fm.fields[fm.at].typed && fm.at+1 < len(fm.fields) {
			fm.enter(fm.at + 1)
			return nil
		}
		return fm.accept(m)
	case "tab", "down":
		fm.enter(fm.at + 1)
	case "shift+tab", "up":
		fm.enter(fm.at - 1)
	default:
		fm.problem = ""
		fm.fields[fm.at].key(fm, msg)
	}
	return nil
}

// accept closes the form before it is used, so that what it opens lies on top; it
// comes back when something in it is wrong.
func (fm *form) accept(m *Model) tea.Cmd {
	m.pop()
	cmd, err := fm.take(m, fm)
	if err != nil {
		fm.problem = err.Error()
		fm.enter(fm.fieldOf(err)) // what was wrong is typed over
		m.push(fm)
	}
	return cmd
}

// fieldOf is the index of the field that an error speaks of, or of the one in use.
func (fm *form) fieldOf(err error) int {
	name := ""
	var wrong *fieldError
	var tape *scalp.MeasureError
	switch {
	case errors.As(err, &wrong):
		name = wrong.field
	case errors.As(err, &tape):
		name = tape.Measure
	}
	for i, f := range fm.fields {
		if f.name == name {
			return i
		}
	}
	return fm.at
}

func (fm *form) enter(i int) {
	fm.at = (i + len(fm.fields)) % len(fm.fields)
	fm.fields[fm.at].typed = false
}

// find is the field of a name.
func (fm *form) find(name string) *field {
	for _, f := range fm.fields {
		if f.name == name {
			return f
		}
	}
	panic("tui: no field " + name)
}

// foot is the last line of the form: its keys.
func (fm *form) foot() string {
	switch {
	case fm.long:
		return "Tab next   Enter after typing next, else done   Esc leave"
	case len(fm.fields) == 1:
		return "Enter done   Esc leave"
	}
	return "Tab next   Enter done   Esc leave"
}

func (fm *form) draw(m *Model) {
	const width = 76
	names, hints := 0, 1
	for _, f := range fm.fields {
		names = max(names, cells.Width(f.name))
		hints = max(hints, len(wrap(m.inWords(f.hint), width-4))) // or the frame would jump from field to field
	}
	foot := append(m.wrapIn(fm.problem, width-4), wrap(m.inWords(fm.note), width-4)...)
	in := m.box(width, len(fm.fields)+hints+len(foot)+4, fm.title)
	shown := max(1, min(len(fm.fields), in.H-hints-1-len(m.wrapIn(fm.problem, width-4))))
	fm.top = max(0, min(max(fm.top, fm.at-shown+1), fm.at, len(fm.fields)-shown))
	for i, f := range fm.fields[fm.top : fm.top+shown] {
		y, i := in.Y+i, fm.top+i
		ink := figure.Label
		if i == fm.at {
			ink = figure.Strong
			m.scr.Put(in.X-1, y, figure.Strong, m.opts.Glyphs.Here)
		}
		m.scr.Text(in.X, y, names, ink, f.name)
		f.draw(m, cells.Rect{X: in.X + names + 2, Y: y, W: in.W - names - 2, H: 1}, i == fm.at)
	}
	y := in.Y + shown
	if fm.top > 0 {
		m.scr.Put(in.X+in.W-1, in.Y, figure.Dim, m.opts.Glyphs.More[0])
	}
	if fm.top+shown < len(fm.fields) {
		m.scr.Put(in.X+in.W-1, y-1, figure.Dim, m.opts.Glyphs.More[1])
	}
	above := cells.Rect{X: in.X, Y: in.Y, W: in.W, H: in.H - 1} // the last line is for the keys
	m.paragraph(above, y, figure.Dim, m.inWords(fm.fields[fm.at].hint))
	y = m.paragraph(above, y+hints, figure.StopInk, fm.problem)
	if note := m.inWords(fm.note); y+len(wrap(note, above.W)) <= above.Y+above.H { // half a sentence is worse than none
		m.paragraph(above, y, figure.Dim, note)
	}
	m.scr.Text(in.X, in.Y+in.H-1, in.W, figure.Dim, fm.foot())
}

func (f *field) draw(m *Model, r cells.Rect, here bool) {
	switch {
	case f.options == nil:
		f.drawText(m, r, here)
	case f.marked != nil:
		f.drawMarks(m, r, here)
	default:
		ink := figure.Plain
		text := m.inUnit(f.choice())
		if here {
			ink, text = figure.FieldOn, "< "+text+" >"
		}
		m.scr.Text(r.X, r.Y, r.W, ink, text)
	}
}

func (f *field) drawText(m *Model, r cells.Rect, here bool) {
	ink := figure.Field
	if here {
		ink = figure.FieldOn
	}
	runes, left := endOf([]rune(f.input.Value()), r.W-1) // keep the end in view
	at := f.input.Position() - left
	used := m.scr.Text(r.X, r.Y, r.W, ink, string(runes))
	for ; used < min(8, r.W); used++ {
		m.scr.Put(r.X+used, r.Y, ink, ' ')
	}
	m.scr.Text(r.X+used+1, r.Y, r.W-used-1, figure.Dim, f.echo())
	if here {
		m.scr.Cursor = true
		m.scr.CursorX = r.X + cells.Width(string(runes[:max(0, min(at, len(runes)))]))
		m.scr.CursorY = r.Y
	}
}

// endOf is as much of the end of a text as has room in some cells, and how many runes before it are left out. It looks at no
// more of a long text than it gives.
func endOf(runes []rune, width int) (end []rune, left int) {
	used := 0
	for left = len(runes); left > 0; left-- {
		if used += cells.Width(string(runes[left-1])); used > width {
			break
		}
	}
	for left < len(runes) && printable.RuneWidth(runes[left]) == 0 { // a mark without what it stands on
		left++
	}
	return runes[left:], left
}

func (f *field) drawMarks(m *Model, r cells.Rect, here bool) {
	x := r.X
	for i, o := range f.options {
		box, ink := "[ ] ", figure.Plain
		if f.marked[i] {
			box = "[x] "
		}
		if here && i == f.sub {
			ink = figure.FieldOn
			m.scr.Cursor, m.scr.CursorX, m.scr.CursorY = true, x+1, r.Y
		}
		x += m.scr.Text(x, r.Y, r.X+r.W-x, ink, box+o) + 1
	}
}
