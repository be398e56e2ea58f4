package cli

import (
	"bytes"
	"compress/zlib"
	"encoding/csv"
	"encoding/json"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// mostHeaped is how many marks may stand on one letter.
const mostHeaped = 6

// whyUnsafe says what in a text a terminal would obey, or a reader could not see; nil where nothing is. It does not ask the
// package that makes texts safe.
func whyUnsafe(text string) error {
	if !utf8.ValidString(text) {
		return errors.New("it is not UTF-8")
	}
	heaped, before := 0, rune(-1)
	for at, r := range text {
		joined := r == '\u200c' || r == '\u200d'
		switch {
		case r == '\n':
		case joined && before < utf8.RuneSelf:
			return fmt.Errorf("byte %d is a joiner after %q", at, before)
		case joined:
		case !unicode.IsGraphic(r):
			return fmt.Errorf("byte %d is %U, after %q", at, r, tail(text[:at]))
		}
		if heaped++; !joined && !unicode.In(r, unicode.Mn, unicode.Me) {
			heaped = 0
		}
		if heaped > mostHeaped || heaped == 1 && (before < 0 || before == '\n') {
			return fmt.Errorf("byte %d is mark %d on %q", at, heaped, tail(text[:at]))
		}
		before = r
	}
	return nil
}

func tail(text string) string { return text[max(0, len(text)-40):] }

func (e *evil) wantPlain(name, text string) {
	e.t.Helper()
	if err := whyUnsafe(text); err != nil {
		e.t.Errorf("%q writes what is no plain text: %v", name, err)
	}
}

// wantCSV fails unless the output is rows of one length, without a cell that a spreadsheet would reckon out.
func (e *evil) wantCSV(r ran) {
	e.t.Helper()
	e.wantPlain(r.name, strings.ReplaceAll(r.out, "\r\n", "\n"))
	rows, err := csv.NewReader(strings.NewReader(r.out)).ReadAll()
	if err != nil {
		e.t.Errorf("%q writes no CSV: %v", r.name, err)
	}
	for _, row := range rows {
		for _, cell := range row {
			// Where semicolons or tabs part cells, a cell can begin within one of ours.
			for _, part := range strings.FieldsFunc(cell, func(r rune) bool { return strings.ContainsRune(";\t\r\n", r) }) {
				if first, _ := utf8.DecodeRuneInString(strings.TrimLeft(part, `"`)); strings.ContainsRune("=+-@＝＋－＠\t\r", first) {
					e.t.Errorf("%q writes a cell that is a formula: %q", r.name, cell)
				}
			}
		}
	}
}

// wantJSON fails unless the output is one value of JSON, in which every text is safe to show.
func (e *evil) wantJSON(r ran) {
	e.t.Helper()
	e.wantPlain(r.name, r.out)
	if r.out == "" && r.code == exitInput {
		return
	}
	var all any
	if err := json.Unmarshal([]byte(r.out), &all); err != nil {
		e.t.Errorf("%q writes no JSON: %v", r.name, err)
	}
	var look func(any)
	look = func(v any) {
		switch v := v.(type) {
		case string:
			e.wantPlain(r.name+", as JSON", v)
		case []any:
			for _, v := range v {
				look(v)
			}
		case map[string]any:
			for _, v := range v {
				look(v)
			}
		}
	}
	look(all)
}

// wantCard writes the card of a sheet in every way, and looks at the files.
func (e *evil) wantCard(file string, more ...string) {
	e.t.Helper()
	for ending, want := range map[string]func(string, []byte) error{".pdf": whyNoPDF, ".svg": whyNoSVG, ".txt": func(_ string, data []byte) error { return whyUnsafe(string(data)) }} {
		to := e.temp(ending)
		if r := e.read(append([]string{"card", file, "--to", to}, more...)...); r.code != exitOK {
			continue
		}
		pages, _ := filepath.Glob(strings.TrimSuffix(to, ending) + "*" + ending)
		for _, page := range pages {
			data, err := os.ReadFile(page)
			if err == nil {
				err = want(page, data)
			}
			if err != nil {
				e.t.Errorf("the card of %s, %s: %v", file, ending, err)
			}
			os.Remove(page)
		}
	}
}

// ours are the elements of our SVG with their attributes.
var ours = map[string][]string{
	"svg":  {"xmlns", "width", "height", "viewBox", "lang", "role", "aria-labelledby"},
	"path": {"id", "d", "fill", "fill-rule", "stroke", "stroke-width", "stroke-linejoin", "stroke-linecap", "stroke-dasharray"},
	"rect": {"width", "height", "fill"}, "g": {"role", "aria-label", "transform", "fill"}, "use": {"href", "x", "y"},
	"title": {"id"}, "defs": nil,
}

// whyNoSVG says what in an SVG is not ours.
func whyNoSVG(_ string, data []byte) error {
	d := xml.NewDecoder(bytes.NewReader(data))
	for {
		token, err := d.Token()
		switch {
		case errors.Is(err, io.EOF):
			return nil
		case err != nil:
			return err
		}
		switch it := token.(type) {
		case xml.StartElement:
			attributes, known := ours[it.Name.Local]
			if !known {
				return fmt.Errorf("there is an element <%s>", it.Name.Local)
			}
			for _, a := range it.Attr {
				if !slices.Contains(attributes, a.Name.Local) || a.Name.Local == "href" && !strings.HasPrefix(a.Value, "#") {
					return fmt.Errorf("<%s> has %s=%q", it.Name.Local, a.Name.Local, a.Value)
				}
				if err := whyUnsafe(a.Value); err != nil {
					return err
				}
			}
		case xml.CharData:
			if err := whyUnsafe(string(it)); err != nil {
				return err
			}
		case xml.Directive, xml.Comment:
			return fmt.Errorf("there is %q", it)
		case xml.ProcInst:
			if it.Target != "xml" {
				return fmt.Errorf("there is <?%s", it.Target)
			}
		}
	}
}

var (
	streams = regexp.MustCompile(`(?s)(<<[^\n]*(?:\n[^\n]*)?)\nstream\n(.*?)\nendstream`)
	active  = regexp.MustCompile(`/(JavaScript|JS|Launch|OpenAction|AA|URI|EmbeddedFile|SubmitForm|GoToR|RichMedia)\b`)
)

// whyNoPDF says what in a PDF is not ours: anything that acts, or a page in which something has ended that we did not end.
func whyNoPDF(_ string, data []byte) error {
	if !bytes.HasPrefix(data, []byte("%PDF-1.")) || !bytes.HasSuffix(bytes.TrimSpace(data), []byte("%%EOF")) {
		return errors.New("it neither begins nor ends as a PDF does")
	}
	for _, word := range []string{"%%EOF", "startxref", "\ntrailer"} {
		if n := bytes.Count(streams.ReplaceAll(data, nil), []byte(word)); n != 1 {
			return fmt.Errorf("%q is there %d times", strings.TrimSpace(word), n)
		}
	}
	if act := active.Find(streams.ReplaceAll(data, nil)); act != nil {
		return fmt.Errorf("it acts: %s", act)
	}
	pages := 0
	for _, m := range streams.FindAllSubmatch(data, -1) {
		body := m[2]
		if bytes.Contains(m[1], []byte("FlateDecode")) {
			r, err := zlib.NewReader(bytes.NewReader(body))
			if err != nil {
				return err
			}
			if body, err = io.ReadAll(r); err != nil {
				return err
			}
		}
		if !bytes.Contains(body, []byte(" Tf ")) && !bytes.Contains(body, []byte(" Td (")) {
			continue // a font
		}
		pages++
		if err := whyNoPage(body); err != nil {
			return err
		}
	}
	if pages == 0 {
		return errors.New("there is no page")
	}
	return nil
}

// pageOperators are those that our pages have, with what opens and closes.
var pageOperators = strings.Fields("q Q BT ET Td Tf Tj Tr Tz Tc Tw re m l c h f f* S s B B* b b* n W W* w J j d g G rg RG cm gs")

// whyNoPage reads the stream of a page as PDF has it: texts in brackets, numbers, names, operators.
func whyNoPage(body []byte) error {
	depth := map[string]int{}
	for i := 0; i < len(body); {
		switch c := body[i]; {
		case c == '(':
			open := 0
			for ; i < len(body); i++ {
				switch body[i] {
				case '\\':
					i++
				case '(':
					open++
				case ')':
					open--
				}
				if open == 0 {
					break
				}
			}
			if i >= len(body) {
				return errors.New("a text does not end")
			}
			i++
		case strings.IndexByte(" \r\n\t[]", c) >= 0:
			i++
		default:
			end := i
			for end < len(body) && strings.IndexByte(" \r\n\t[]()", body[end]) < 0 {
				end++
			}
			word := string(body[i:end])
			if i = end; c == '/' || c == '-' || c == '.' || c >= '0' && c <= '9' {
				continue
			}
			if !slices.Contains(pageOperators, word) {
				return fmt.Errorf("there is an operator %.40q", word)
			}
			depth[word]++
		}
		if depth["Q"] > depth["q"] || depth["ET"] > depth["BT"] {
			return errors.New("something ends that has not begun")
		}
	}
	if depth["Q"] != depth["q"] || depth["ET"] != depth["BT"] || depth["Tj"] > depth["BT"] {
		return fmt.Errorf("not all that begins ends: %v", depth)
	}
	return nil
}
