package sheetfile

import (
	"bytes"
	"fmt"
	"math"
	"strconv"
	"strings"

	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
)

// headRemark is the first line of every sheet that is written.
const headRemark = "# Underveil head sheet. Lengths in mm, grams in g."

// Encode writes a sheet in the one shape that it has: the same sheet is the same bytes. It writes whatever the sheet
// holds, right or not, so that nothing is lost; what Decode would refuse it then refuses with the place.
func Encode(s *sheet.Sheet) []byte {
	w := &writer{}
	w.WriteString(headRemark + "\n")
	w.number("format", formatNow)
	w.text("title", s.Title)
	w.textIf("client", s.Client)
	w.dateIf("date", s.Date)
	w.textIf("notes", s.Notes)
	w.list("worn", quoteAll(s.Worn))
	w.list("wish", quoteAll(s.Wish))
	w.number("hole_spacing", float64(s.HoleSpacing))
	w.flagIf("aside", s.Aside)
	w.number("line_gap", float64(s.LineGap))
	if len(s.Shades) == 0 {
		w.list("shade", nil) // or Decode would take the shade of a new sheet
	}
	w.head(s)
	for _, p := range s.Partings {
		w.table("parting")
		w.number("right", float64(p.Right))
		w.number("length", float64(p.Length))
	}
	for _, k := range s.KeepOff {
		w.table("keep_off")
		w.number("height", float64(k.Height))
		w.number("right", float64(k.Right))
		w.number("radius", float64(k.Radius))
		w.textIf("why", k.Why)
	}
	for _, h := range s.Shades {
		w.table("shade")
		w.text("key", string(rune(h.Key)))
		w.text("name", h.Name)
		w.number("length", float64(h.Length))
		w.number("grams", h.Grams)
		w.number("pack", float64(h.Pack))
		w.textIf("colour", string(h.Colour))
		w.textIf("texture", h.Texture)
		w.numberIf("ends", h.Ends)
		w.textIf("toned", h.Toned)
		w.numberIf("used", float64(h.Used))
		w.numberIf("retipped", float64(h.Retipped))
		w.letterIf("was", h.Was)
	}
	for _, r := range s.Rows {
		w.row(r)
	}
	for _, a := range s.Accepted {
		w.accepted(a)
	}
	for _, v := range s.Visits {
		w.visit(v)
	}
	return w.Bytes()
}

// writer writes keys and tables.
type writer struct{ bytes.Buffer }

// head writes the tables that there is one of.
func (w *writer) head(s *sheet.Sheet) {
	w.table("head")
	w.number("circumference", float64(s.Measures.Circumference))
	w.number("ear_to_ear", float64(s.Measures.EarToEar))
	w.number("front_to_nape", float64(s.Measures.FrontToNape))
	w.number("nape_width", float64(s.Measures.NapeWidth))
	w.flagIf("confirmed", s.Measures.Confirmed)

	w.hair(s.Hair)
	w.consultation(s.Asked)
	w.amounts(s.Amounts)
	open := w.optional("hairline")
	for _, l := range scalp.Landmarks() {
		if by := s.Moved[l]; by != (scalp.Shift{}) {
			open()
			w.list(l.String(), []string{decimal(float64(by.Right)), decimal(float64(by.Up))})
		}
	}
	open = w.optional("turns")
	for _, turn := range sheet.Turns {
		if by := s.Turns[turn]; by != (scalp.Shift{}) {
			open()
			w.list(string(turn), []string{decimal(float64(by.Right)), decimal(float64(by.Up))})
		}
	}
	open = w.optional("limits")
	for _, info := range sheet.Limits {
		if v, ok := s.Limits[info.Name]; ok {
			open()
			w.number(string(info.Name), v)
		}
	}
}

// hair writes what is known of the client's own hair.
func (w *writer) hair(h sheet.Hair) {
	if h == (sheet.Hair{}) {
		return
	}
	w.table("hair")
	w.numberIf("length", float64(h.Length))
	w.textIf("density", h.Density)
	w.numberIf("ponytail", float64(h.Ponytail))
	w.numberIf("count", h.Count)
	w.textIf("texture", h.Texture)
	w.textIf("root", string(h.Root))
	w.textIf("mid", string(h.Mid))
	w.textIf("ends", string(h.Ends))
}

// consultation writes what has been asked.
func (w *writer) consultation(c sheet.Consultation) {
	if c.Equal(sheet.Consultation{}) {
		return
	}
	w.table("consultation")
	for _, q := range sheet.Questions {
		w.textIf(string(q.ID), string(c.Answer(q.ID)))
	}
	w.dateIf("patch_test", c.PatchTest)
	w.dateIf("agreed", c.Agreed)
}

// amounts writes how much of each look is wished for.
func (w *writer) amounts(a sheet.Amounts) {
	if a == (sheet.Amounts{}) {
		return
	}
	w.table("amounts")
	w.numberIf("length", float64(a.Length))
	w.numberIf("volume", a.Volume)
	w.numberIf("highlights", float64(a.Highlights))
}

func (w *writer) row(r sheet.Row) {
	w.table("row")
	w.place(r.Place)
	w.textIf("look", string(r.Look))
	w.flagIf("offset", r.Offset)
	w.text("bonds", r.Text())
}

func (w *writer) accepted(a sheet.Accepted) {
	w.table("accept")
	w.text("rule", a.Rule)
	if a.On != sheet.OnSheet {
		w.place(a.Row)
	}
	if a.On == sheet.OnSlot {
		w.number("slot", float64(a.Slot))
	}
	w.textIf("about", a.About)
	w.text("reason", a.Reason)
	w.textIf("by", a.By)
	w.dateIf("date", a.Date)
}

// place writes where a row lies.
func (w *writer) place(at sheet.Place) { w.key(placeKey(at), placeNumber(at)) }

// placeNumber is the number of a place. A line of the map may lie at 3 · 7.3 = 21.900000000000002; Decode knows it by 21.9.
func placeNumber(at sheet.Place) string { return decimal(math.Round(float64(at.At)*1e7) / 1e7) }

// table begins a table.
func (w *writer) table(name string) { fmt.Fprintf(w, "\n%s\n", headSheet.heading(name)) }

// optional is a function that begins a table the first time it is called.
func (w *writer) optional(name string) func() {
	begun := false
	return func() {
		if !begun {
			w.table(name)
			begun = true
		}
	}
}

// key writes a key and the value as it is.
func (w *writer) key(key, value string) { fmt.Fprintf(w, "%s = %s\n", quoteKey(key), value) }

func (w *writer) number(key string, v float64) { w.key(key, decimal(v)) }
func (w *writer) text(key, s string)           { w.key(key, quote(s)) }
func (w *writer) list(key string, elements []string) {
	w.key(key, "["+strings.Join(elements, ", ")+"]")
}

// numberIf, textIf, letterIf, flagIf and dateIf leave out what says nothing.
func (w *writer) numberIf(key string, v float64) {
	if v != 0 {
		w.number(key, v)
	}
}

func (w *writer) textIf(key, s string) {
	if s != "" {
		w.text(key, s)
	}
}

func (w *writer) letterIf(key string, letter byte) {
	if letter != 0 {
		w.text(key, string(rune(letter)))
	}
}

func (w *writer) flagIf(key string, v bool) {
	if v {
		w.key(key, "true")
	}
}

func (w *writer) dateIf(key, date string) {
	if isDate(date) {
		w.key(key, date)
		return
	}
	w.textIf(key, date) // Decode refuses it, and says where
}

// decimal is a number as short as can be, without a negative zero.
func decimal(v float64) string { return strconv.FormatFloat(v+0, 'f', -1, 64) }

func quoteAll[T ~string](words []T) []string {
	quoted := make([]string, len(words))
	for i, w := range words {
		quoted[i] = quote(string(w))
	}
	return quoted
}

// quoteKey is a key as it is written.
func quoteKey(key string) string {
	for i := range len(key) {
		if !isBare(key[i]) {
			return quote(key)
		}
	}
	return key
}

// quote is a TOML basic string. What cannot be shown is escaped, so that a sheet is safe to show as it is.
func quote(s string) string {
	var b strings.Builder
	b.WriteByte('"')
	for i, r := range s {
		switch {
		case r == '"' || r == '\\':
			b.WriteByte('\\')
			b.WriteRune(r)
		case r == '\n':
			b.WriteString(`\n`)
		case r == '\t':
			b.WriteString(`\t`)
		case printable.Shows(s, i):
			b.WriteRune(r)
		case r < 0x10000:
			fmt.Fprintf(&b, `\u%04X`, r)
		default:
			fmt.Fprintf(&b, `\U%08X`, r)
		}
	}
	b.WriteByte('"')
	return b.String()
}
