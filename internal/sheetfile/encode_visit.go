package sheetfile

import (
	"fmt"
	"strings"

	"example.org/underveil/internal/sheet"
)

// visit writes what happened in a visit, its lists a row a line so that a comparison of two files shows which moved.
func (w *writer) visit(v sheet.Visit) {
	w.table("visit")
	w.text("kind", string(v.Kind))
	w.dateIf("date", v.Date)
	w.textIf("by", v.By)
	w.textIf("notes", v.Notes)
	w.numberIf("seconds", float64(v.Seconds))
	w.flagIf("open", v.Open)
	w.flagIf("aside", v.Aside)
	var fitted, strands []string
	for _, r := range v.Fitted {
		fitted = append(fitted, rowText(r.Place, r.Text()))
	}
	for _, o := range v.Strands {
		strands = append(strands, outcomeText(o))
	}
	w.lines("fitted", fitted)
	w.lines("seen", marksTexts(v.Seen))
	w.lines("ticks", marksTexts(v.Ticks))
	w.lines("strands", strands)
}

// lines writes a list of texts, a line each; nothing where there is none.
func (w *writer) lines(key string, texts []string) {
	if len(texts) == 0 {
		return
	}
	w.WriteString(key + " = [\n")
	for _, text := range texts {
		w.WriteString("    " + quote(text) + ",\n")
	}
	w.WriteString("]\n")
}

// rowText is a row of a visit as one text: its place and its slots.
func rowText(at sheet.Place, slots string) string {
	text := placeNumber(at) + " " + slots
	if at.Along {
		return alongWord + " " + text
	}
	return text
}

// alongWord is before the number of a row front to back.
const alongWord = "along"

// marksTexts are marks as texts, a row each, in the order of the map.
func marksTexts(all sheet.Marks) []string {
	rows := map[sheet.Place]sheet.Marks{}
	for at, mark := range all {
		if rows[at.At] == nil {
			rows[at.At] = sheet.Marks{}
		}
		rows[at.At][at] = mark
	}
	var texts []string
	for _, at := range all.Places() {
		texts = append(texts, rowText(at, rows[at].Text(at)))
	}
	return texts
}

// outcomeText is what became of the strands of one kind as one text.
func outcomeText(o sheet.Outcome) string {
	letter := string(rune(o.Shade))
	if o.Split {
		letter = strings.ToUpper(letter)
	}
	words := []string{letter}
	for _, figure := range []struct {
		name  string
		value float64
	}{{"retipped", float64(o.Retipped)}, {"halved", float64(o.Halved)}, {"kept", float64(o.Kept)}, {"thrown", float64(o.Thrown)}, {"cut", float64(o.Cut)}} {
		if figure.value != 0 {
			words = append(words, figure.name+"="+decimal(figure.value))
		}
	}
	if o.Into != 0 {
		words = append(words, fmt.Sprintf("into=%c", o.Into))
	}
	return strings.Join(words, " ")
}
