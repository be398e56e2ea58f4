package tui

import (
	"bytes"
	"errors"
	"io"
	"os"
	"strings"
	"testing"

	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/sheetfile"
)

// hasPlaced is a dialogue with a sheet that has one unsaved bond.
func hasPlaced(t *testing.T) *listener {
	t.Helper()
	e := edit(t, plainSheet(t), setup{})
	e.at(height(60), 0)
	l := listenTo(t, e.m)
	l.hears("place")
	return l
}

// To say leave twice gives nothing up: the second leaves the question. What gives it up says so in whole words.
func TestLeaveTwiceKeepsTheSheet(t *testing.T) {
	l := hasPlaced(t)
	for _, line := range []string{"leave", "leave", "leave", "leave it", "unsav", "le", "quit"} {
		if l.hears(line); l.p.quit {
			t.Fatalf("%q left the sheet unsaved", line)
		}
	}
	l.hears("leave")
	if answer := l.hears("lose the changes"); !l.p.quit || answer != "left; the changes are dropped\n" {
		t.Errorf("left: %v, said %q", l.p.quit, answer)
	}
}

// What is left for later, and what is dropped, is told as it is left.
func TestToldAsItIsLeft(t *testing.T) {
	for answer, want := range map[string]struct {
		said string
		kept int
	}{"later": {"left for later; it is offered on the start page\n", 1}, "leave for later": {"left for later; it is offered on the start page\n", 1}, "drop": {"left; the changes are dropped\n", 0}} {
		opts := listensTo(t, newDisk())
		var out bytes.Buffer
		err := Plain(strings.NewReader("clean\nplace\nleave\n"+answer+"\n"), &out, opts, nil)
		if left := opts.Unsaved.Folder.All(); err != nil || !strings.HasSuffix(out.String(), want.said) || len(left) != want.kept {
			t.Errorf("%s: %v, %d kept\n%s", answer, err, len(left), out.String())
		}
	}
}

// What was taken up and taken back is left over still, which is told as it is left.
func TestTakenUpAndBackIsTold(t *testing.T) {
	d := newDisk()
	d.held["one.toml"] = sheetfile.Encode(plainSheet(t))
	opts := listensTo(t, d)
	_ = Plain(strings.NewReader("open one.toml\nplace\n"), io.Discard, opts, nil)
	var out bytes.Buffer
	if err := Plain(strings.NewReader("open one.toml\nt\nundo\nleave\n"), &out, opts, nil); err != nil ||
		!strings.HasSuffix(out.String(), "what was left unfinished stays so, and is offered when one.toml is opened again\n") {
		t.Errorf("%v\n%s", err, out.String())
	}
}

// Whatever is open, each way out leaves it and nothing else, and changes nothing.
func TestOneWayOut(t *testing.T) {
	for _, opens := range []string{"client", "shades", "plan", "limits", "explain", "why", "order", "visits", "open", "consultation", "match", "in hand", "fit", "card", "save as", "leave", "keep off"} {
		for _, way := range []string{"back", "leave", "cancel"} {
			e := edit(t, demoSheet(t), setup{disk: folder(t, "one.toml")})
			l := listenTo(t, e.m)
			if opens == "leave" {
				l.hears("place")
			}
			before := e.m.doc.sheet()
			l.hears(opens)
			if len(e.m.dialogs) == 0 {
				t.Fatalf("%q opens nothing:\n%s", opens, l.out.String())
			}
			if answer := l.hears(way); l.p.quit || len(e.m.dialogs) > 0 || e.m.doc.sheet() != before {
				t.Errorf("%q in %q: left the program %v, %d open, changed %v:\n%s", way, opens, l.p.quit, len(e.m.dialogs), e.m.doc.sheet() != before, answer)
			}
		}
	}
}

// At the chair a way out pauses, and untick takes back only what was recorded.
func TestUntick(t *testing.T) {
	e := edit(t, demoSheet(t), setup{})
	l := listenTo(t, e.m)
	for _, line := range []string{"fit", "", "ML"} {
		l.hears(line)
	}
	steps := len(e.steps())
	if answer := l.hears("untick"); !strings.HasPrefix(answer, "nothing to untick\n") || len(e.steps()) != steps {
		t.Errorf("%d steps more: %s", len(e.steps())-steps, answer)
	}
	l.hears("")
	l.hears("left")
	if answer := l.hears("untick"); !strings.HasPrefix(answer, "taken back") || len(e.steps()) != steps+2 {
		t.Errorf("%d steps more: %s", len(e.steps())-steps, answer)
	}
	if answer := l.hears("back"); e.m.chairOpen() != nil || !strings.HasPrefix(answer, "paused") {
		t.Error(answer)
	}
}

// A form that is cut off by the end of the input says what it takes along, and so does one that is cancelled; back does not drop it.
func TestHalfAForm(t *testing.T) {
	var out bytes.Buffer
	err := Plain(strings.NewReader("clean\nclient\nspring\n7\n"), &out, listensTo(t, newDisk()), nil)
	if !errors.Is(err, ErrNotSaved) || !strings.HasSuffix(out.String(), "the client was not taken, and is dropped: title spring; client 7\n") {
		t.Errorf("%v\n%s", err, out.String())
	}
	l := hasPlaced(t)
	l.hears("client")
	l.hears("spring")
	if answer := l.hears("back"); l.p.m.front() == nil || !strings.HasPrefix(answer, "answered and not taken yet: title spring.") {
		t.Error(answer)
	}
	if answer := l.hears("cancel"); l.p.m.front() != nil || answer != "dropped: title spring\n" {
		t.Error(answer)
	}
	l.hears("client")
	if answer := l.hears("cancel"); answer != "nothing changed\n" {
		t.Error(answer)
	}
}

// thenStops is an input after which nothing comes but a signal.
type thenStops struct {
	io.Reader
	stop chan<- os.Signal
}

func (s *thenStops) Read(p []byte) (int, error) {
	n, err := s.Reader.Read(p)
	if err == nil {
		return n, nil
	}
	s.stop <- os.Interrupt
	select {} // as a terminal that nobody types at
}

// Told from outside to end, the dialogue says what is not saved, and keeps it.
func TestStoppedFromOutside(t *testing.T) {
	d := newDisk()
	opts := listensTo(t, d)
	var out bytes.Buffer
	p := newPlain(&out, opts)
	stop := make(chan os.Signal, 1)
	p.stop = stop
	p.begin(nil)
	err := p.listen(&thenStops{strings.NewReader("clean\nplace\nclient\nspring\n"), stop})
	said := out.String()
	if !errors.Is(err, ErrNotSaved) || !strings.Contains(said, "the client was not taken, and is dropped: title spring\n") ||
		!strings.HasSuffix(said, "stopped; not saved. A copy is kept and offered on the start page\n") {
		t.Errorf("%v\n%s", err, said)
	}
	if left := opts.Unsaved.Folder.All(); len(left) != 1 {
		t.Errorf("%d sheets are kept", len(left))
	}
}

// All marks every row of a plan and none unmarks them, however they were; and how many that are is said.
func TestPlanAllOrNone(t *testing.T) {
	e := edit(t, plainSheet(t), setup{})
	l := listenTo(t, e.m)
	l.hears("plan")
	d := e.m.planOpen()
	if d == nil {
		t.Fatal(l.out.String())
	}
	marked := func() (n int) {
		for _, r := range d.rows {
			if r.take {
				n++
			}
		}
		return n
	}
	for _, c := range []struct {
		line string
		want int
	}{{"all", len(d.rows)}, {"none", 0}, {"none", 0}, {"1", 1}, {"all", len(d.rows)}, {"2", len(d.rows) - 1}, {"all", len(d.rows)}} {
		answer := l.hears(c.line)
		if marked() != c.want || !strings.Contains(answer, l.p.markedOf(d)) {
			t.Errorf("%s: %d marked, want %d: %s", c.line, marked(), c.want, answer)
		}
	}
	l.hears("none")
	before := e.m.doc.sheet()
	if l.hears("take"); e.m.doc.sheet() != before {
		t.Error("none of the plan was taken, and yet the sheet is another")
	}
}

// What was told before is not said again.
func TestToldOnce(t *testing.T) {
	d := newDisk()
	opts := listensTo(t, d)
	var out bytes.Buffer
	_ = Plain(strings.NewReader("clean\nplace\nsave-as m2.toml\nselect row\nselect nothing\nnew\ncancel\nopen nosuch.toml\nback\nclient\ncancel\ntotals\n"), &out, opts, nil)
	if n := strings.Count(out.String(), "saved to m2.toml"); n != 1 || strings.Contains(out.String(), "saving to") {
		t.Errorf("said %d times:\n%s", n, out.String())
	}
}

// A way out is no limit, and half a name sets none.
func TestLimitsByWholeNames(t *testing.T) {
	e := edit(t, demoSheet(t), setup{})
	l := listenTo(t, e.m)
	before := e.m.doc.sheet()
	for _, lines := range [][]string{{"limits", "back", "right"}, {"limits", "back 3"}, {"cancel"}} {
		for _, line := range lines {
			l.hears(line)
		}
	}
	if e.m.doc.sheet() != before {
		t.Error("a limit was changed")
	}
}

// A fault is named by the whole name of a rule only.
func TestFaultsByWholeNames(t *testing.T) {
	for _, c := range []struct{ lines, named string }{
		{"name fault\nrow\nna\nback\n", ""}, {"name row\nback\n", ""}, {"name fault\nnape\n", "nape"}, {"name nape\n", "nape"},
	} {
		opts := listensTo(t, newDisk())
		p := newPlain(io.Discard, opts)
		p.begin(nil)
		_ = p.listen(strings.NewReader("exercises\nML\n9\ngo 20 right 3\n" + c.lines))
		at := sheet.Spot{At: height(20), Slot: 3}
		if named := p.m.doc.sheet().Tried.MarkedAt(at); named != c.named {
			t.Errorf("%q names %q", c.lines, named)
		}
	}
}

// A day is looked at when it is answered, and may be called today or yesterday.
func TestDaysSaid(t *testing.T) {
	e := edit(t, demoSheet(t), setup{})
	l := listenTo(t, e.m)
	l.hears("consultation")
	l.hears("patch test")
	f := e.m.front().(*form)
	for _, c := range []struct{ said, want string }{
		{"today", today.Format("2006-01-02")}, {"t", today.Format("2006-01-02")}, {"yesterday", today.AddDate(0, 0, -1).Format("2006-01-02")}, {"2026-02-28", "2026-02-28"}, {"none", ""},
	} {
		l.hears("patch test")
		l.hears(c.said)
		if got := f.find(fPatch).text(); got != c.want {
			t.Errorf("%q is %q, want %q", c.said, got, c.want)
		}
	}
	for _, said := range []string{"2026-02-30", "tomorrow", "soon", "01.02.2026"} {
		l.hears("patch test")
		if answer := l.hears(said); !strings.Contains(answer, "is no day") || f.fields[f.at].name != fPatch || f.find(fPatch).text() != "" {
			t.Errorf("%q: %s", said, answer)
		}
	}
}

// A new sheet is asked for from its title on.
func TestNewSheetFromItsTitle(t *testing.T) {
	d := newDisk()
	var out bytes.Buffer
	_ = Plain(strings.NewReader("new\nspring\n027\ndone\nsave-as s.toml\n"), &out, listensTo(t, d), nil)
	s, _, err := sheetfile.Decode("s.toml", d.held["s.toml"])
	if err != nil {
		t.Fatalf("%v\n%s", err, out.String())
	}
	if s.Title != "spring" || s.Client != "027" {
		t.Errorf("title %q, client %q", s.Title, s.Client)
	}
}

// Save with a name goes by the file that the sheet has, and not by one that nobody heard offered.
func TestSaveByTheFolder(t *testing.T) {
	d := newDisk()
	p := newPlain(io.Discard, listensTo(t, d))
	p.begin(nil)
	p.line("clean")
	p.line("save-as m1.toml")
	p.line("place")
	p.m.tried = "/nonexistent/folder/x.toml"
	if p.line("save ."); d.held["x.toml"] != nil || p.m.doc.path != "m1.toml" {
		t.Errorf("it is in %s", p.m.doc.path)
	}
}

// A line said to a page on another page is obeyed, and not only closes the one in front.
func TestPagesPassLinesOn(t *testing.T) {
	e := edit(t, demoSheet(t), setup{})
	l := listenTo(t, e.m)
	for _, line := range []string{"finding 1", "explain", "rule"} {
		l.hears(line)
	}
	if answer := l.hears("rows"); !strings.HasPrefix(answer, "7 rows\n") {
		t.Error(answer)
	}
	for _, page := range []string{"order", "why", "explain", "visits"} {
		l.hears(page)
		if answer := l.hears("help"); !strings.Contains(answer, "back") || strings.Contains(answer, "no change") {
			t.Errorf("help in %s: %s", page, answer)
		}
		l.hears("cancel")
	}
}

// What goes against itself is asked about, and does nothing.
func TestSaidAgainstItself(t *testing.T) {
	e := edit(t, demoSheet(t), setup{})
	l := listenTo(t, e.m)
	sheetBefore, at, hand := e.m.doc.sheet(), e.m.doc.cursor, e.m.doc.hand
	for _, line := range []string{"paint every second every third", "paint split whole", "hand full trimmed", "60 left 3", "1 left 2"} {
		l.hears(line)
		if e.m.doc.sheet() != sheetBefore || e.m.doc.cursor != at || e.m.doc.hand != hand {
			t.Fatalf("%q was obeyed: %s", line, l.out.String())
		}
	}
}

// The end of a script says whether all of it could be obeyed.
func TestRefusedLines(t *testing.T) {
	for lines, refused := range map[string]bool{
		"clean\nwhere\nback\n": false, "clean\nselect 3\n": true, "clean\nplcae\n": true, "clean\ngo 900\nleave\n": true, "clean\nfind 3\nleave\n": true, "clean\nclient\nownhair 3\ncancel\n": false,
	} {
		if err := Plain(strings.NewReader(lines), io.Discard, listensTo(t, newDisk()), nil); errors.Is(err, ErrRefused) != refused {
			t.Errorf("%q: %v", lines, err)
		}
	}
}

// Fixes go by their numbers, on the page of the finding and without it.
func TestFixesByNumber(t *testing.T) {
	for _, lines := range []string{"fix 1", "explain\n1", "explain\nfix 1", "explain\nrule\nfix 1"} {
		e := edit(t, demoSheet(t), setup{})
		l := listenTo(t, e.m)
		l.hears("finding 1")
		before := e.m.doc.totals.Strands
		for line := range strings.SplitSeq(lines, "\n") {
			l.hears(line)
		}
		if e.m.doc.totals.Strands != before-1 { // lifting it is the only one
			t.Errorf("%q:\n%s", lines, l.out.String())
		}
	}
}

// A question about the file that comes before a line says that the line was not obeyed.
func TestQuestionBeforeALine(t *testing.T) {
	d := newDisk()
	d.held["one.toml"] = sheetfile.Encode(plainSheet(t))
	opts := listensTo(t, d)
	opts.WatchEvery = 1
	var out bytes.Buffer
	p := newPlain(&out, opts)
	p.begin(nil)
	for _, line := range []string{"open one.toml", "go 60", "place"} {
		p.line(line)
	}
	d.held["one.toml"] = append(d.held["one.toml"], "# another\n"...)
	before, from := p.m.doc.sheet(), out.Len()
	p.line("clear")
	if said := out.String()[from:]; p.m.front() == nil || p.m.doc.sheet() != before || !strings.HasPrefix(said, "not obeyed: clear\n") {
		t.Error(said)
	}
}
