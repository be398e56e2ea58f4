package tally

import (
	"encoding/csv"
	"errors"
	"strconv"
	"strings"
	"testing"
	"time"

	"example.org/underveil/internal/money"
	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/studio"
)

// written out, an order of two lines, one without a price; the sums are those of TestOrderWorkedByHand in kind.
const writtenOut = `kind,name,length_mm,grams_each,planned,spare,needed,from_drawer,to_buy,pack,packs,left_over,count,seconds_each,seconds,price,to_order,sum,currency,note
strand,"ash, ""light""",500,0.8,60,6,66,10,56,25,3,19,,,,64.50,193.50,154.80,EUR,
strand,'=1+1,450,1,3,1,4,0,4,20,1,16,,,,,,,EUR,the studio does not have it
work,laying out,,,,,,,,,,,1,1200,1200,,,,,
work,parting and strip,,,,,,,,,,,63,0,0,,,,,
work,bonds,,,,,,,,,,,63,90,5670,,,,,
work,looking again,,,,,,,,,,,63,0,0,,,,,
work,cut and aftercare,,,,,,,,,,,1,0,0,,,,,
total,hair,,,,,,,,,,,,,,,193.50,154.80,EUR,
total,chair,,,,,,,,,,,,,6870,60.00,,114.50,EUR,
total,total,,,,,,,,,,,,,,,,269.30,EUR,"not in it: =1+1, 450 mm: the studio does not have it"
`

func TestCSVWrittenOut(t *testing.T) {
	st := &studio.Studio{Currency: euro, Service: studio.Service{Setup: 20 * time.Minute, Bond: 90 * time.Second, Hour: 6000, Spare: 10},
		Strands: []studio.Strand{stock(`ash, "light"`, 25, 10, 6450)}}
	shades := []sheet.Shade{{Name: `ash, "light"`, Length: 500, Grams: 0.8, Pack: 25}, {Name: "=1+1", Length: 450, Grams: 1, Pack: 20}}
	var b strings.Builder
	if err := OrderOf(&sheet.Sheet{}, taking(shades, Counts{Whole: 60}, Counts{Whole: 3}), st).CSV(&b); err != nil {
		t.Fatal(err)
	}
	// 20 min and 63 x 90 s are 1200 + 5670 = 6870 s; at 60.00 an hour, a cent in 0.6 s, 114.50.
	if want := strings.ReplaceAll(writtenOut, "\n", "\r\n"); b.String() != want {
		t.Errorf("%s\nwant\n%s", b.String(), want)
	}
}

func TestGuarded(t *testing.T) {
	for cell, want := range map[string]string{
		"": "", "oat": "oat", "a=b": "a=b", "a-b": "a-b", " =1": " =1", "'=1": "'=1", "12.50": "12.50", "ash; oat": "ash; oat",
		"=HYPERLINK(\"x\")": "'=HYPERLINK(\"x\")", "+1": "'+1", "-x": "'-x", "@x": "'@x", "\tx": "'\tx", "\rx": "'\rx", "\nx": "'\nx",
		"＝1": "'＝1", "＋1": "'＋1", "－1": "'－1", "＠x": "'＠x", "=": "'=", "\t=1": "'\t'=1",
		"a;\"=1": "a;\"'=1", "a;\"\"-1": "a;\"\"'-1", "\"=1": "\"'=1", "\"a\"=1": "\"a\"=1",
		"a;=1": "a;'=1", "a\t@x": "a\t'@x", "a\n-x": "a\n'-x", "a;;+1": "a;;'+1",
	} {
		if got := printable.Cell(cell); got != want {
			t.Errorf("%q becomes %q, want %q", cell, got, want)
		}
	}
}

// TestCSVIsReadBack holds random orders with hard names to come back cell by cell from a reader of CSV.
func TestCSVIsReadBack(t *testing.T) {
	rng := seeded(47)
	for range fewer(1000, 100) {
		o, _ := randomOrder(rng.IntN, randomSheet(rng))
		var b strings.Builder
		if err := o.CSV(&b); err != nil {
			t.Fatal(err)
		}
		rows, err := csv.NewReader(strings.NewReader(b.String())).ReadAll()
		if err != nil || len(rows) != 1+len(o.Lines)+len(o.Work)+3 {
			t.Fatalf("%d rows, %v:\n%s", len(rows), err, b.String())
		}
		if strings.Count(b.String(), "\n") != strings.Count(b.String(), "\r\n") {
			t.Fatalf("a line that does not end with CR LF: %q", b.String())
		}
		for _, row := range rows {
			for _, cell := range row {
				if strings.HasPrefix(cell, "'") && !strings.HasPrefix(cell, "'quoted") {
					continue
				}
				if strings.IndexAny(cell, "=+-@\t\r\n＝＋－＠") == 0 {
					t.Fatalf("a cell begins as a formula does: %q", cell)
				}
			}
		}
		for i, l := range o.Lines {
			checkCSVLine(t, o, l, byColumn(rows, 1+i))
		}
		for i, step := range o.Work {
			row := byColumn(rows, 1+len(o.Lines)+i)
			if row["kind"] != "work" || row["name"] != step.Name || time.Duration(whole(t, row["seconds"]))*time.Second != step.All {
				t.Fatalf("%v\nwant %+v", row, step)
			}
		}
		checkCSVTotals(t, o, rows)
	}
}

func checkCSVTotals(t *testing.T, o Order, rows [][]string) {
	t.Helper()
	for i, want := range []money.Amount{o.Hair, o.Chair, o.Total} {
		row := byColumn(rows, len(rows)-3+i)
		if why := o.whyNoChair(); i == 1 && why != "" {
			if row["sum"] != "" || row["note"] != why || o.Hour == 0 && row["price"] != "" {
				t.Fatalf("no price, and %v", row)
			}
			continue
		}
		if row["kind"] != "total" || row["currency"] != o.Currency.Code || parsed(t, o.Currency, row["sum"]) != want {
			t.Fatalf("%v\nwant %d", row, want)
		}
	}
}

func checkCSVLine(t *testing.T, o Order, l OrderLine, row map[string]string) {
	t.Helper()
	if row["kind"] != "strand" || row["name"] != printable.Cell(l.Name) || row["currency"] != o.Currency.Code {
		t.Fatalf("%v\nwant %+v", row, l)
	}
	for column, want := range map[string]int{"planned": l.Planned, "spare": l.Spare, "needed": l.Needed, "from_drawer": l.Taken,
		"to_buy": l.ToBuy, "pack": l.Pack, "packs": l.Packs, "left_over": l.LeftOver, "length_mm": int(l.Length)} {
		if whole(t, row[column]) != want {
			t.Fatalf("%s: %q, want %d", column, row[column], want)
		}
	}
	switch {
	case !l.Priced && (row["sum"] != "" || row["price"] != "" || row["note"] == ""):
		t.Fatalf("no price, and %v", row)
	case l.Priced && (parsed(t, o.Currency, row["sum"]) != l.Sum || parsed(t, o.Currency, row["price"]) != l.Price ||
		parsed(t, o.Currency, row["to_order"]) != l.Bought):
		t.Fatalf("%v\nwant %+v", row, l)
	}
}

// byColumn is a row by the names of the columns.
func byColumn(rows [][]string, i int) map[string]string {
	row := map[string]string{}
	for c, name := range rows[0] {
		row[name] = rows[i][c]
	}
	return row
}

func whole(t *testing.T, text string) int {
	t.Helper()
	n, err := strconv.Atoi(text)
	if err != nil || n < 0 {
		t.Fatalf("%q is no number of things: %v", text, err)
	}
	return n
}

func parsed(t *testing.T, c money.Currency, text string) money.Amount {
	t.Helper()
	a, err := c.Parse(text)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// broken is a disk that is full.
type broken struct{}

var errFull = errors.New("full")

func (broken) Write([]byte) (int, error) { return 0, errFull }

func TestCSVSaysWhatCouldNotBeWritten(t *testing.T) {
	if err := (Order{}).CSV(broken{}); !errors.Is(err, errFull) {
		t.Errorf("%v", err)
	}
}
