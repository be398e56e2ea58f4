package sheetfile

import (
	"errors"
	"fmt"
	"iter"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
)

// rowAt is a row of a visit: its place, and the text that its slots stand in.
type rowAt struct {
	written
	at   sheet.Place
	from int // the byte at which the slots begin
}

// slots are the slots as they are written.
func (r *rowAt) slots() string { return r.text[r.from:] }

// filled yields the slots that hold something, from left to right, with the byte at which each stands in the text.
func (r *rowAt) filled() iter.Seq2[int, int] {
	left, _, _ := strings.Cut(r.slots(), "(")
	slot := strings.Count(left, "'") - len(left) // the first
	return func(yield func(slot, at int) bool) {
		for at := r.from; at < len(r.text); at++ {
			switch r.text[at] {
			case '(', ')', '\'':
				continue
			case '.':
			default:
				if !yield(slot, at) {
					return
				}
			}
			slot++
		}
	}
}

// rowsOf reads a list of rows of a visit as far as their places, in the order of the map.
func (d *decoder) rowsOf(v *visited, key string) []rowAt {
	texts, ok := v.texts(key)
	rows := make([]rowAt, 0, len(texts))
	for _, w := range texts {
		r, fine := d.rowAt(v.table, key, w)
		if ok = ok && fine; fine {
			rows = append(rows, r)
		}
	}
	slices.SortStableFunc(rows, func(a, b rowAt) int { return sheet.Spot{At: a.at}.Compare(sheet.Spot{At: b.at}) })
	for i := range rows {
		if r := &rows[i]; i > 0 && r.at == rows[i-1].at {
			d.failWithin(r.written, wordAt(r.text, 0), fmt.Sprintf("%s: there is a row at %s already", key, r.at), "put both into one text")
			ok = false
		}
	}
	v.rows[key], v.unsure = rows, v.unsure || !ok
	return rows
}

// texts reads a list of texts. ok is false where there is anything else.
func (t table) texts(key string) (list []written, ok bool) {
	if !t.has(key) {
		return nil, true
	}
	values, isList := t.values[key].([]any)
	if !isList {
		t.wrong(key, "a list of texts")
		return nil, false
	}
	if len(values) > mostRows {
		t.fail(key, fmt.Sprintf("%s: more than %d texts: no %s needs so many", key, mostRows, t.of), "was something pasted many times?")
		return nil, false
	}
	ok, list = true, make([]written, 0, len(values))
	for i, v := range values {
		w := written{place: t.places.find(t.path.key(key).item(i))}
		var isText bool
		if w.text, isText = v.(string); isText {
			list = append(list, w)
			continue
		}
		t.reader.fail(w.value, fmt.Sprintf("%s: there is %s in the list, and should be text", key, kindOf(v)), "write it like "+t.sample(t.name, key))
		ok = false
	}
	return list, ok
}

// rowAt reads the place that the text of a row begins with.
func (d *decoder) rowAt(t table, key string, w written) (r rowAt, ok bool) {
	r.written = w
	within, number := bounds{0, tallest, " mm"}, wordAt(w.text, 0)
	if number.of(w.text) == alongWord {
		r.at.Along, within, number = true, besideMiddle, wordAt(w.text, number.to)
	}
	mm, isNumber := plainNumber(number.of(w.text))
	if !isNumber {
		for i, char := range number.of(w.text) {
			if problem, remedy := explainLookalike(char); problem != "" {
				d.failInside(w, number.from+i, problem, remedy)
				return r, false
			}
		}
		remedy := "write it like " + t.sample(t.name, key) + ", with along 24 in place of 60 for a row front to back"
		if _, decimal := plainNumber(strings.Replace(number.of(w.text), ",", ".", 1)); decimal {
			remedy = "write decimals with a point, like 58.4"
		}
		d.failWithin(w, number, key+": a row begins with its place: a number of mm, or along and a number", remedy)
		return r, false
	}
	if problem, remedy := within.check(key+": "+placeKey(r.at), mm); problem != "" {
		d.failWithin(w, number, problem, remedy)
		return r, false
	}
	r.at.At = scalp.MM(mm + 0) // no negative zero
	r.at, r.from = d.onLine(r.at), wordAt(w.text, number.to).from
	return r, true
}

// wordAt is the first word of a text from a byte on: what stands between blanks. At the end of the text it is empty.
func wordAt(text string, at int) span {
	w := span{from: at}
	for w.from < len(text) && isBlank(text[w.from]) {
		w.from++
	}
	for w.to = w.from; w.to < len(text) && !isBlank(text[w.to]); w.to++ {
	}
	return w
}

func isBlank(c byte) bool { return c == ' ' || c == '\t' }

// plainNumber reads a number in digits, with a point and a sign at most.
func plainNumber(word string) (v float64, ok bool) {
	if strings.Trim(word, "+-.0123456789") != "" || word == "" {
		return 0, false
	}
	v, err := strconv.ParseFloat(word, 64)
	return v, err == nil
}

// failMarks reports what is wrong with the marks of a row.
func (d *decoder) failMarks(r *rowAt, err error, of []sheet.MarkInfo) {
	var wrong *sheet.TextError
	if !errors.As(err, &wrong) {
		d.fail(r.value, err.Error(), howMarks(of))
		return
	}
	at := r.from + wrong.At
	problem, remedy := wrong.Problem, "write the slots from left to right, the centre in brackets, like "+likeMarks(of)
	letter, size := utf8.DecodeRuneInString(r.text[at:])
	mark := sheet.Mark(0)
	if size == 1 {
		mark = sheet.Mark(letter)
	}
	switch {
	case size == 0 || letter == '(' || letter == ')' || letter == '.' || isMark(mark, of):
	case blankName(letter) != "":
		problem, remedy = "there is "+blankName(letter)+" in the row", "take it out; an empty slot is a dot"
	case mark != mark.Plain() && isMark(mark.Plain(), of):
		problem, remedy = fmt.Sprintf("there is no mark %c: a capital is for what was put right, and with %c nothing is", mark, mark.Plain()), fmt.Sprintf("write %c", mark.Plain())
	default:
		problem, remedy = wrong.Problem, howMarks(of)
	}
	d.failInside(r.written, at, problem, remedy)
}

// howMarks lists marks, and likeMarks is a row of them.
func howMarks(of []sheet.MarkInfo) string {
	marks, mended := make([]string, len(of)), ""
	for i, info := range of {
		marks[i] = fmt.Sprintf("%c %s", info.Mark, info.Words)
		if info.Mend != "" {
			mended = "; a capital once it was put right"
		}
	}
	return "the marks are " + strings.Join(marks, ", ") + mended
}

func likeMarks(of []sheet.MarkInfo) string {
	return fmt.Sprintf("%c.%c.(.).%c", of[0].Mark, of[0].Mark, of[0].Mark)
}
