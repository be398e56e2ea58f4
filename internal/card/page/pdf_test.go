package page

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"unicode/utf16"

	"example.org/underveil/internal/card/letter"
)

// names are in the five scripts that the fonts have.
var names = []string{"Łucja Öztürk", "Ольга Ђорђевић", "Ελένη Παπαδοπούλου", "שרה כהן", "محمد"}

// sample are two pages with all kinds of marks.
func sample(s *letter.Setter) []*Page {
	a := &Page{Size: A4, Title: "one & <two>"}
	path := &Path{Stroke: 0.3, Dash: 1, Filled: true, Fill: 1}
	a.Add(path.Circle(50, 50, 10).Rect(20, 20, 10, 5))
	for i, name := range names {
		a.Add(&Text{Line: s.Set(name, letter.Weight(i%2)), At: Point{20, 80 + 10*float64(i)}, Size: 5})
	}
	a.Add(&Text{Line: s.Set("王 & co", letter.Regular), At: Point{20, 150}, Size: 5})
	b := &Page{Size: Letter, Title: "second"}
	b.Add(&Text{Line: s.Set("the second page: To AV (brackets) \\ back", letter.Bold), At: Point{20, 30}, Size: 5})
	return []*Page{a, b}
}

func samplePDF(t testing.TB) []byte {
	s := letter.New()
	data, err := PDF("a title", sample(s), s)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// objects are the objects of a PDF by number, found by the table at its end, each checked to begin where the table says. It is a
// reader of its own for what the library writes, and no more.
func objects(t *testing.T, data []byte) map[int][]byte {
	t.Helper()
	if !bytes.HasPrefix(data, []byte("%PDF-1.")) || !bytes.HasSuffix(bytes.TrimSpace(data), []byte("%%EOF")) {
		t.Fatal("it neither begins nor ends as a PDF does")
	}
	tail := data[bytes.LastIndex(data, []byte("startxref")):]
	at, err := strconv.Atoi(strings.Fields(string(tail))[1])
	if err != nil || !bytes.HasPrefix(data[at:], []byte("xref")) {
		t.Fatalf("startxref does not lead to the table: %v", err)
	}
	list := map[int][]byte{}
	lines := strings.Split(string(data[at:]), "\n")
	count, _ := strconv.Atoi(strings.Fields(lines[1])[1])
	for n := 1; n < count; n++ {
		from, err := strconv.Atoi(strings.Fields(lines[2+n])[0])
		begins := fmt.Sprintf("%d 0 obj", n)
		if err != nil || !bytes.HasPrefix(data[from:], []byte(begins)) {
			t.Fatalf("object %d is not where the table says", n)
		}
		rest := data[from+len(begins):]
		list[n] = rest[:bytes.Index(rest, []byte("endobj"))]
	}
	return list
}

// stream is the stream of an object, inflated.
func stream(t *testing.T, object []byte) []byte {
	t.Helper()
	from := bytes.Index(object, []byte("stream\n"))
	to := bytes.LastIndex(object, []byte("\nendstream"))
	if from < 0 || to < 0 {
		return nil
	}
	body := object[from+len("stream\n") : to]
	if !bytes.Contains(object[:from], []byte("FlateDecode")) {
		return body
	}
	r, err := zlib.NewReader(bytes.NewReader(body))
	if err != nil {
		t.Fatal(err)
	}
	plain, err := io.ReadAll(r)
	if err != nil {
		t.Fatal(err)
	}
	return plain
}

// shown are the texts that a page's stream shows.
func shown(content []byte) []string {
	var list []string
	for rest := content; ; {
		i := bytes.Index(rest, []byte(" Td ("))
		if i < 0 {
			return list
		}
		rest = rest[i+len(" Td ("):]
		var raw []byte
		for k := 0; rest[k] != ')'; k++ {
			if rest[k] == '\\' {
				if k++; rest[k] == 'r' {
					raw = append(raw, '\r')
					continue
				}
			}
			raw = append(raw, rest[k])
		}
		units := make([]uint16, len(raw)/2)
		for k := range units {
			units[k] = binary.BigEndian.Uint16(raw[2*k:])
		}
		list = append(list, string(utf16.Decode(units)))
	}
}

func TestPDFHoldsTogether(t *testing.T) {
	list := objects(t, samplePDF(t))
	pages, fonts, content := 0, 0, ""
	for _, o := range list {
		text := string(o)
		switch {
		case strings.Contains(text, "/Type /Page\n"):
			pages++
		case strings.Contains(text, "/FontFile2"):
			fonts++
		}
	}
	for n := 1; n <= len(list); n++ {
		if body := stream(t, list[n]); bytes.Contains(body, []byte(" Td (")) {
			content += string(body)
			if q, Q := count(body, "q"), count(body, "Q"); q != Q {
				t.Errorf("object %d saves the state %d times and brings it back %d times", n, q, Q)
			}
		}
	}
	if pages != 2 || fonts != 2 {
		t.Errorf("%d pages and %d embedded fonts, want 2 and 2", pages, fonts)
	}
	all := strings.Join(shown([]byte(content)), "")
	for _, want := range []string{"Łucja Öztürk", "Ольга Ђорђевић", "Ελένη Παπαδοπούλου", "ןהכ הרש", "王 & co", "the second page: To AV (brackets) \\ back"} {
		if !strings.Contains(all, want) {
			t.Errorf("%q is not in it as text; there is %q", want, all)
		}
	}
	for _, o := range list {
		if i := bytes.Index(o, []byte("/CreationDate")); i >= 0 && !bytes.Contains(o[i:], []byte("D:20000101")) {
			t.Errorf("it bears another date: %s", o[i:])
		}
	}
}

// count counts an operator that stands alone.
func count(body []byte, operator string) int {
	return len(regexp.MustCompile(`(?m)(^|\s)`+operator+`(\s|$)`).FindAll(body, -1))
}

func TestSameBytes(t *testing.T) {
	a, b := samplePDF(t), samplePDF(t)
	if !bytes.Equal(a, b) {
		t.Error("the same pages are two different PDFs")
	}
	s := letter.New()
	for i, p := range sample(s) {
		if other := letter.New(); !bytes.Equal(SVG(p, s), SVG(sample(other)[i], other)) {
			t.Errorf("page %d is two different SVGs", i+1)
		}
	}
}

// Another program reads the names of all scripts out of it, and finds nothing wrong with it.
func TestPDFReadByOthers(t *testing.T) {
	file := filepath.Join(t.TempDir(), "sample.pdf")
	if err := os.WriteFile(file, samplePDF(t), 0o600); err != nil {
		t.Fatal(err)
	}
	t.Run("ghostscript", func(t *testing.T) {
		if _, err := exec.LookPath("gs"); err != nil {
			t.Skip("there is no gs on the path")
		}
		out, err := exec.Command("gs", "-q", "-dSAFER", "-dBATCH", "-dNOPAUSE", "-dPDFSTOPONERROR", "-sDEVICE=bbox", file).CombinedOutput()
		if err != nil {
			t.Fatalf("%v\n%s", err, out)
		}
		if n := strings.Count(string(out), "%%HiResBoundingBox"); n != 2 {
			t.Errorf("it draws %d pages, want 2:\n%s", n, out)
		}
	})
	t.Run("poppler", func(t *testing.T) {
		if _, err := exec.LookPath("pdftotext"); err != nil {
			t.Skip("there is no pdftotext on the path")
		}
		out, err := exec.Command("pdftotext", "-layout", file, "-").CombinedOutput()
		if err != nil {
			t.Fatalf("%v\n%s", err, out)
		}
		for _, want := range append(names, "王 & co", "the second page: To AV (brackets) \\ back") {
			if !strings.Contains(string(out), want) {
				t.Errorf("it does not find %q in\n%s", want, out)
			}
		}
	})
}
