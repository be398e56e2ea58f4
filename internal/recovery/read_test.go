package recovery

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

var noon = time.Date(2026, time.April, 7, 12, 0, 0, 0, time.UTC)

// someLog is a log that was written by Keep, with where each record ends.
type someLog struct {
	data    []byte
	origin  Origin
	records []Record
	begin   int   // of the first record
	ends    []int // of each
}

// writeLog keeps n random sheets and returns the file.
func writeLog(t testing.TB, r *rand.Rand, n, size int) someLog {
	t.Helper()
	l := Folder(t.TempDir()).Log()
	g := someLog{origin: Origin{Path: "/sheets/" + string(randomBytes(r, 1+r.IntN(8))) + ".toml", Stamp: string(randomBytes(r, 32))}}
	start, err := opening(g.origin)
	if err != nil {
		t.Fatal(err)
	}
	g.begin = len(start)
	for i := range n {
		rec := Record{At: noon.Add(time.Duration(i) * time.Second), Changes: i + 1, Place: randomText(r), Sheet: randomBytes(r, r.IntN(size))}
		if err := l.Keep(g.origin, rec); err != nil {
			t.Fatal(err)
		}
		g.records, g.ends = append(g.records, rec), append(g.ends, int(l.size))
	}
	if g.data, err = os.ReadFile(l.path); err != nil {
		t.Fatal(err)
	}
	if len(g.data) != g.ends[n-1] {
		t.Fatalf("the file has %d bytes, %d were kept", len(g.data), g.ends[n-1])
	}
	if err := l.Drop(); err != nil {
		t.Fatal(err)
	}
	return g
}

// randomBytes hold what could be taken for a line or for a frame too.
func randomBytes(r *rand.Rand, n int) []byte {
	b := make([]byte, n)
	for i := range b {
		b[i] = byte(r.IntN(256))
		if r.IntN(4) == 0 {
			b[i] = "\n\x00\x01\xff"[r.IntN(4)]
		}
	}
	return b
}

func randomText(r *rand.Rand) string {
	return []string{"", "height 60", `"\` + "\n", "春", strings.Repeat("x", 300)}[r.IntN(5)]
}

// wants holds what is read against the last record of the first n bytes that ends there.
func (g someLog) wants(t *testing.T, what string, data []byte, sound int) {
	t.Helper()
	o, got, ok := read(data)
	var want *Record
	for i, end := range g.ends {
		if end <= sound {
			want = &g.records[i]
		}
	}
	switch {
	case want == nil && !ok:
	case want == nil:
		t.Fatalf("%s: a record came back though none is whole: %+v", what, got)
	case !ok:
		t.Fatalf("%s: nothing came back, want change %d", what, want.Changes)
	case o != g.origin:
		t.Fatalf("%s: the origin is %q, want %q", what, o, g.origin)
	case !got.At.Equal(want.At) || got.Changes != want.Changes || got.Place != want.Place || !bytes.Equal(got.Sheet, want.Sheet):
		t.Fatalf("%s: change %d came back, want %d\n%q\n%q", what, got.Changes, want.Changes, got, *want)
	}
}

// A log that was cut off anywhere gives the last record before the cut, whatever follows it.
func TestTornLogs(t *testing.T) {
	for seed := range rounds(40, 5) {
		r := rand.New(rand.NewPCG(seed, 1))
		g := writeLog(t, r, 1+r.IntN(6), 200)
		g.wants(t, "whole", g.data, len(g.data))
		for cut := range len(g.data) {
			at := fmt.Sprintf("seed %d, cut at %d of %d", seed, cut, len(g.data))
			g.wants(t, at, g.data[:cut], cut)
			g.wants(t, at+", then noughts", append(bytes.Clone(g.data[:cut]), make([]byte, 300)...), sound(g.data, cut))
			junk := append(bytes.Clone(g.data[:cut]), randomBytes(r, 300)...)
			g.wants(t, at+", then something else", junk, same(g.data, junk))
		}
	}
}

// sound is how far a log that was cut off and filled with noughts is still as it was.
func sound(data []byte, cut int) int {
	for cut < len(data) && data[cut] == 0 {
		cut++
	}
	return cut
}

// same is how many bytes two files begin with in common.
func same(a, b []byte) int {
	for i := range min(len(a), len(b)) {
		if a[i] != b[i] {
			return i
		}
	}
	return min(len(a), len(b))
}

// Of a log that was damaged anywhere the last record before the damage comes back: a byte that is another, a bit, a
// stretch of noughts as a power cut leaves it, a stretch that is missing or there twice.
func TestDamagedLogs(t *testing.T) {
	for seed := range rounds(60, 6) {
		r := rand.New(rand.NewPCG(seed, 2))
		g := writeLog(t, r, 2+r.IntN(5), 300)
		for at := range g.data {
			bit := bytes.Clone(g.data)
			bit[at] ^= 1 << r.IntN(8)
			g.wants(t, fmt.Sprintf("seed %d, bit of byte %d", seed, at), bit, at)
			other := bytes.Clone(g.data)
			other[at] = byte(r.IntN(256))
			g.wants(t, fmt.Sprintf("seed %d, byte %d", seed, at), other, same(g.data, other))
		}
		for range 200 {
			from := r.IntN(len(g.data))
			to := min(len(g.data), from+1+r.IntN(600))
			blank := bytes.Clone(g.data)
			clear(blank[from:to])
			g.wants(t, fmt.Sprintf("seed %d, noughts %d to %d", seed, from, to), blank, same(g.data, blank))
			gone := append(bytes.Clone(g.data[:from]), g.data[to:]...)
			if n := same(g.data, gone); n < len(gone) { // or it was cut off at the end of a record
				g.wantsNoGarbage(t, fmt.Sprintf("seed %d, without %d to %d", seed, from, to), gone)
			}
			twice := append(bytes.Clone(g.data[:to]), g.data[from:]...)
			g.wantsNoGarbage(t, fmt.Sprintf("seed %d, %d to %d twice", seed, from, to), twice)
		}
	}
}

// wantsNoGarbage holds what is read to be one of the records that were kept: with whole records missing or there twice that
// is all that can be asked.
func (g someLog) wantsNoGarbage(t *testing.T, what string, data []byte) {
	t.Helper()
	o, got, ok := read(data)
	if !ok {
		return
	}
	for _, want := range g.records {
		if o == g.origin && got.Changes == want.Changes && got.Place == want.Place && bytes.Equal(got.Sheet, want.Sheet) {
			return
		}
	}
	t.Fatalf("%s: what came back was never kept: %+v", what, got)
}

func TestWhatIsNoLog(t *testing.T) {
	head, err := opening(Origin{})
	if err != nil {
		t.Fatal(err)
	}
	badHead, _ := frame([]byte(magic), []byte("{"))
	noLine, _ := frame(bytes.Clone(head), []byte("no line"))
	notJSON, _ := frame(bytes.Clone(head), []byte("x\nsheet"))
	for name, data := range map[string][]byte{
		"nothing": nil, "text": []byte("title = 1\n"), "magic alone": []byte(magic), "no record": head, "another version": []byte("underveil unsaved 2\n"),
		"a head that is none": badHead, "a record without a line": noLine, "a record whose line is none": notJSON,
	} {
		if _, got, ok := read(data); ok {
			t.Errorf("%s: %+v came back", name, got)
		}
	}
}

// Whatever is in a file, what comes back out of it is in it, and comes back again when it is kept again.
func FuzzRead(f *testing.F) {
	r := rand.New(rand.NewPCG(1, 3))
	for range 4 {
		f.Add(writeLog(f, r, 3, 50).data)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		o, got, ok := read(data)
		if !ok {
			return
		}
		if !bytes.Contains(data, got.Sheet) {
			t.Errorf("the sheet %q is not in the file", got.Sheet)
		}
		again, err1 := opening(o)
		more, err2 := got.framed()
		if err1 != nil || err2 != nil {
			t.Fatal(err1, err2)
		}
		o2, got2, ok := read(append(again, more...))
		if !ok || o2 != o || !got2.At.Equal(got.At) || got2.Changes != got.Changes || got2.Place != got.Place || !bytes.Equal(got2.Sheet, got.Sheet) {
			t.Errorf("%q %+v comes back as %q %+v", o, got, o2, got2)
		}
	})
}

// rounds counts up to a number, or to less in a short run.
func rounds(all, short int) func(func(uint64) bool) {
	n := all
	if testing.Short() {
		n = short
	}
	return func(yield func(uint64) bool) {
		for i := range n {
			if !yield(uint64(i)) {
				return
			}
		}
	}
}

// oneFile is the only log in a folder.
func oneFile(t testing.TB, f Folder) string {
	t.Helper()
	list, err := filepath.Glob(filepath.Join(string(f), "*"))
	if err != nil || len(list) != 1 {
		t.Fatalf("the folder has %q (%v), want one file", list, err)
	}
	return list[0]
}
