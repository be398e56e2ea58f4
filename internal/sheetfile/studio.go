package sheetfile

import (
	"fmt"
	"math"
	"strings"
	"time"

	"example.org/underveil/internal/money"
	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/studio"
)

// LoadStudio reads the studio in a file. Its error is as that of Load.
func LoadStudio(path string) (*studio.Studio, []Notice, error) {
	data, bad := read(&studioFile, path)
	if bad != nil {
		return nil, nil, Errors{bad}
	}
	return DecodeStudio(path, data)
}

// DecodeStudio reads a studio. name is the name of the file, for messages. Free text that could harm a terminal is made
// safe, with a notice. The error is an Errors with all that is wrong, each with its place.
func DecodeStudio(name string, data []byte) (*studio.Studio, []Notice, error) {
	t, _, bad := open(&studioFile, name, data)
	if bad != nil {
		return nil, nil, Errors{bad}
	}
	d := &studioDecoder{reader: t.reader, studio: &studio.Studio{}}
	d.all(t)
	if len(d.errs) > 0 {
		d.errs.sort()
		return nil, nil, d.errs
	}
	return d.studio, d.notices, nil
}

// studioDecoder makes a studio of what the reader reads.
type studioDecoder struct {
	*reader
	studio *studio.Studio
	priced bool // the currency is known, so that sums can be read
}

func (d *studioDecoder) all(t table) {
	if t.isOther("currency", "give the name of a studio file") || !t.isFormatNow() {
		return
	}
	t.checkKeys()
	s := d.studio
	t.text("studio", &s.Name)
	t.text("contact", &s.Contact)
	d.currency(t)
	d.service(t)
	s.Limits = t.limits()
	d.strands(t)
}

// currency reads what all sums are in.
func (d *studioDecoder) currency(t table) {
	if !t.need("currency") {
		return
	}
	code, ok := t.str("currency")
	if !ok {
		return
	}
	known, err := money.Of(code)
	if err != nil {
		t.fail("currency", "there is no currency "+printable.Quote(code), "write its ISO 4217 code of three letters, like "+t.sample("", "currency"))
		return
	}
	d.studio.Currency, d.priced = known, true
}

// longestPart is the longest that a part of the work may take, in minutes.
const longestPart = 600

// service reads how long the work takes and what it costs.
func (d *studioDecoder) service(t table) {
	service, ok := t.sub("service")
	if !ok {
		return
	}
	s := &d.studio.Service
	service.minutes("setup", &s.Setup)
	service.minutes("row", &s.Row)
	service.minutes("bond", &s.Bond)
	service.minutes("check", &s.Check)
	service.minutes("finish", &s.Finish)
	d.sum(service, "hour", &s.Hour)
	service.whole("spare", bounds{0, 100, " %"}, &s.Spare)
}

// minutes reads a time in minutes, to the nearest second.
func (t table) minutes(key string, to *time.Duration) {
	v := 0.0
	if number(t, key, bounds{0, longestPart, " minutes"}, &v) {
		*to = time.Duration(math.Round(v*60)) * time.Second
	}
}

// inStock is what tells one kind of strand from another.
type inStock struct {
	shade  string
	length scalp.MM
}

// strands reads what is in stock.
func (d *studioDecoder) strands(t table) {
	first := map[inStock]int{} // the line of the file that has the kind
	for _, t := range t.list("strand") {
		var s studio.Strand
		ok := t.need("shade", "length", "grams", "pack", "price")
		named := t.shadeName(&s.Name)
		long := t.strand(&s.Shade)
		t.text("tip", &s.Tip)
		d.sum(t, "price", &s.Price)
		t.whole("on_hand", bounds{0, 100000, " strands"}, &s.OnHand)
		if ok && named && long {
			d.twice(t, inStock{s.Name, s.Length}, first)
		}
		d.studio.Strands = append(d.studio.Strands, s)
	}
}

// shadeName reads the name of a shade, by which strands are found.
func (t table) shadeName(to *string) bool {
	if !t.text("shade", to) {
		return false
	}
	if strings.TrimSpace(*to) == "" {
		t.failLike("shade", "the name of the shade is empty")
		return false
	}
	return true
}

// twice reports a second strand of one shade and length.
func (d *studioDecoder) twice(t table, kind inStock, first map[inStock]int) {
	if line, again := first[kind]; again {
		t.fail("shade", fmt.Sprintf("there is a strand %s of %s mm already, on line %d", printable.Quote(kind.shade), plain(float64(kind.length)), line),
			"put both into one "+t.heading("strand")+", or give one another name")
		return
	}
	first[kind], _ = d.lineAt(t.at("shade").value.from)
}
