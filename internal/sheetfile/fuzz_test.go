package sheetfile

import (
	"bytes"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/BurntSushi/toml"

	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
	"example.org/underveil/internal/visit"
)

// Whatever the bytes: an error is safe to show, and a sheet comes back as it was written. One pass makes it canonical,
// and that is the end of it.
func FuzzDecode(f *testing.F) {
	addSamples(f)
	f.Add(Encode(worn(f))) // with visits
	f.Fuzz(func(t *testing.T, data []byte) { checkDecode(t, data) })
}

// Sheets with a few lines taken out, swapped or changed: what a slip of the hand does, and what random bytes do not
// come upon.
func TestDamagedSheets(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 13))
	accepted := 0
	for range 8 {
		text := string(Encode(randomSheet(t, r)))
		for range 15 {
			damaged := damage(r, text)
			if checkDecode(t, []byte(damaged)) {
				accepted++
			}
			if t.Failed() {
				t.Fatalf("in\n%s", damaged)
			}
		}
	}
	if accepted == 0 || accepted == 8*15 {
		t.Errorf("%d damaged sheets are accepted", accepted)
	}
}

func damage(r *rand.Rand, text string) string {
	values := []string{"0", "-0.0", "1", "-60", "59.9", "8.000000001", "1e300", "nan", `"x"`, "true", "[]", "[1, 2]", "{}", "2026-01-01", "30", "1e-9"}
	lines := strings.Split(text, "\n")
	for range 1 + r.IntN(3) {
		i, j := r.IntN(len(lines)), r.IntN(len(lines))
		key, _, isKey := strings.Cut(lines[i], " = ")
		switch r.IntN(5) {
		case 0:
			lines = slices.Delete(lines, i, i+1)
		case 1:
			lines[i], lines[j] = lines[j], lines[i]
		case 2:
			lines = slices.Insert(lines, j, lines[i])
		case 3:
			if isKey {
				lines[i] = key + " = " + pick(r, values)
			}
		default:
			if line := []byte(lines[i]); len(line) > 0 {
				line[r.IntN(len(line))] = byte(' ' + r.IntN(95))
				lines[i] = string(line)
			}
		}
	}
	return strings.Join(lines, "\n")
}

// checkDecode states what holds for any bytes, and reports whether they are a sheet.
func checkDecode(t *testing.T, data []byte) bool {
	t.Helper()
	s, notices, err := Decode("any\x1b.toml", data)
	if err != nil {
		if s != nil || notices != nil {
			t.Error("there is a sheet or a notice beside the error")
		}
		wantSafeError(t, err)
		return false
	}
	wantSafeSheet(t, s)
	for _, n := range notices {
		if n.Line == 0 || !printable.Clean(n.Text) {
			t.Errorf("notice %+q on line %d", n.Text, n.Line)
		}
	}
	if _, err := slots.For(s, nil); err != nil {
		t.Errorf("the sheet does not fit its head: %v", err)
	}
	wantVisits(t, s)
	if light, _, err := decode("any.toml", data, false); err != nil || !reflect.DeepEqual(light, s) {
		t.Errorf("at a glance it is another sheet, or none: %v", err)
	}
	once := Encode(s)
	again, notices, err := Decode("once.toml", once)
	if err != nil || len(notices) > 0 {
		t.Fatalf("what was written is refused: %v %v\n%s", err, notices, once)
	}
	if twice := Encode(again); !bytes.Equal(twice, once) {
		t.Errorf("other bytes came back\n%s", diff(string(once), string(twice)))
	}
	return true
}

// wantVisits sees to it that each visit of a sheet can follow from those before it, as package visit has it.
func wantVisits(t *testing.T, s *sheet.Sheet) {
	t.Helper()
	for n, v := range s.Visits {
		in, out := visit.In(s, n), visit.CameOut(s, n)
		for at := range v.Seen {
			if _, ok := in[at]; !ok {
				t.Errorf("visit %d has seen %v, which was not in", n, at)
			}
		}
		bare := visit.Change(s, n, func(v *sheet.Visit) { v.Fitted = nil })
		left := visit.In(bare, n+1)
		for _, r := range v.Fitted {
			for slot, b := range r.All() {
				at := sheet.Spot{At: r.Place, Slot: slot}
				if _, ok := left[at]; ok {
					t.Errorf("visit %d fits %v, where a bond is", n, at)
				}
				if _, ok := s.Shade(b.Shade); !ok {
					t.Errorf("visit %d fits shade %c, which is not on the sheet", n, b.Shade)
				}
				if v.Ticks[at] != sheet.NoMark {
					t.Errorf("visit %d has a tick on %v, which it made", n, at)
				}
			}
		}
		for _, o := range v.Strands {
			if came := out[visit.Kind{Shade: o.Shade, Split: o.Split}]; o.Pieces() < 1 || o.Pieces() > came {
				t.Errorf("visit %d accounts for %d of %d pieces", n, o.Pieces(), came)
			}
			if _, ok := s.Shade(o.Into); o.Into != 0 && !ok {
				t.Errorf("visit %d makes shade %c of strands, which is not on the sheet", n, o.Into)
			}
		}
		switch {
		case v.Kind == sheet.Fitting && len(in) > 0, v.Kind == sheet.Removal && len(v.Fitted) > 0, !v.Kind.Fits() && len(v.Ticks) > 0:
			t.Errorf("visit %d is no %s: %+v", n, v.Kind, v)
		case v.Open && n < len(s.Visits)-1, n > 0 && v.Date < s.Visits[n-1].Date, !isDate(v.Date):
			t.Errorf("visit %d is at the wrong time: %+v", n, v)
		}
	}
}

// The locator and the TOML reader agree: each value stands where the locator says.
func FuzzLocate(f *testing.F) {
	addSamples(f)
	f.Add(Encode(worn(f)))
	for _, text := range []string{
		"a.b.c = 1\na.d = [1, [2, 3], {x = 'y', z.w = 4}]\n[[t.u]]\nk = '''\nv'''\n[[t.u]]\n[t.u.w]\nk = \"\"\"a\"\"\"\"\"\n",
		"\"k\\u00e9y\" = \"v # no remark\" # a remark = 3\n'a b' = 1979-05-27 07:32:00Z\nx = [ # one\n1,\n2, # two\n]\n",
		"a = {b = {c = []}, d = [{}, {e = -0.0}],}\n",
	} {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		doc, bad := newDocument(&headSheet, "fuzz.toml", data)
		if bad != nil || len(data) > 1<<13 {
			return
		}
		found, _, wrong := doc.locate()
		if wrong != nil {
			var values map[string]any
			if _, err := toml.Decode(doc.text, &values); err == nil && !bounded(wrong) {
				t.Errorf("%s: %+v, but it is TOML:\n%s", wrong.problem, wrong.at, doc.text)
			}
			return
		}
		values, wrong := doc.parse()
		if wrong != nil {
			if strings.Contains(wrong.problem, "cannot be read") {
				t.Errorf("the TOML reader fails on\n%s", doc.text)
			}
			return
		}
		checkPlaces(t, doc.text, found, root, values)
	})
}

// bounded reports whether a text is refused for its size, or for what the TOML reader lets pass against the rules of TOML.
func bounded(wrong *trouble) bool {
	for _, words := range []string{"far too", "far more", "more than", "given twice", "quotation marks in a row"} {
		if strings.Contains(wrong.problem, words) {
			return true
		}
	}
	return false
}

// checkPlaces sees to it that every value within v has its place, and that the value there is the same.
func checkPlaces(t *testing.T, text string, found places, at path, v any) {
	t.Helper()
	stands, ok := found[at]
	switch v := v.(type) {
	case map[string]any:
		for key, v := range v {
			if _, ok := found[at.key(key)]; ok || !strings.Contains(text, `\`) { // an escape in a key is not followed
				checkPlaces(t, text, found, at.key(key), v)
			}
		}
		return
	case []map[string]any:
		for i, v := range v {
			checkPlaces(t, text, found, at.item(i), v)
		}
		return
	case []any:
		for i, v := range v {
			checkPlaces(t, text, found, at.item(i), v)
		}
	}
	if !ok {
		t.Errorf("%q has no place in\n%s", at, text)
		return
	}
	var alone map[string]any
	if _, err := toml.Decode("v = "+text[stands.value.from:stands.value.to], &alone); err != nil {
		t.Errorf("at the place of %q is no value: %v in\n%s", at, err, text)
		return
	}
	if !same(alone["v"], v) {
		t.Errorf("at the place of %q is %v, not %v, in\n%s", at, alone["v"], v, text)
	}
	if s, isText := v.(string); isText && stands.plain && text[stands.value.from+1:stands.value.to-1] != s {
		t.Errorf("%q is not as plain as it is said to be, in\n%s", at, text)
	}
}

func same(a, b any) bool {
	if x, ok := a.(float64); ok && math.IsNaN(x) {
		y, ok := b.(float64)
		return ok && math.IsNaN(y)
	}
	if x, ok := a.(time.Time); ok {
		y, ok := b.(time.Time)
		return ok && x.Equal(y)
	}
	if _, ok := a.([]any); ok {
		return reflect.TypeOf(a) == reflect.TypeOf(b) // the elements are compared one by one
	}
	return reflect.DeepEqual(a, b)
}

func addSamples(f *testing.F) {
	f.Helper()
	for _, kind := range []string{"good", "bad"} {
		for _, path := range sampleFiles(f, kind) {
			if data := readSample(f, path); len(data) < 1<<13 {
				f.Add(data)
			}
		}
	}
}

// A place that no head has is refused, for it could not be written again.
func TestAFarPlaceIsRefused(t *testing.T) {
	least := bytes.TrimSpace(readSample(t, samples+"/good/least.toml"))
	for height, want := range map[string]bool{"1e305": false, "-1e300": false, "999999": true} {
		if got := checkDecode(t, append(bytes.Clone(least), "\n[[accept]]\nrule = \"nape\"\nheight = "+height+"\nreason = \"so\"\n"...)); got != want {
			t.Errorf("height %s is taken: %v", height, got)
		}
	}
}
