package card

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"example.org/underveil/internal/card/letter"
	"example.org/underveil/internal/care"
	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
	"example.org/underveil/internal/tally"
	"example.org/underveil/internal/unit"
	"example.org/underveil/internal/visit"
)

// content is all that the card says. Text from the sheet in it is safe to show.
type content struct {
	title, client, date, by string // date in words; all but the title may be empty

	keys     []byte        // the letters of the shades that have bonds
	pieces   []tally.Piece // in the order of fitting, which numbers them from 1
	lines    []line        // of the table, one for each piece
	aside    string        // that the strip lies half a hole aside, or empty
	leftOut  []string      // rows that have no place on this head
	lacks    []string      // signs that the fonts lack
	open     string        // stops and cautions that nobody accepted, or empty
	accepted []string      // findings that somebody accepted, with the reasons
	totals   []total
	layOut   []string
	steps    []step

	home home // for the client

	unit unit.Unit // that lengths are in
}

// line is one piece in the table.
type line struct {
	panel   string
	place   string // "60 mm", in inches "60, 2.36", or "front to back, 16 left"
	strip   string // to cut
	holes   string
	first   string // of the holes, from the centre
	pattern string
	strands string // how many
	kinds   string // of which shade; whole where it does not say
}

// total is one figure with what it is of. Text that belongs to the one before has no figure.
type total struct{ figure, of string }

// step is a step of the fitting with the cautions that belong to it.
type step struct {
	do       string
	cautions []string
}

func contentOf(s *sheet.Sheet, t *slots.Table, rep *rule.Report, o Options, set *letter.Setter) content {
	c := content{title: clipped(s.Title, longText), client: clipped(s.Client, longName), date: inWords(s.Date), by: fittedBy(s)}
	if c.title == "" {
		c.title = "head sheet"
	}
	c.keys, c.pieces = shadesUsed(s), tally.Pieces(s, t)
	for _, p := range c.pieces {
		c.lines = append(c.lines, lineOf(p, c.keys, t))
	}
	if s.Aside {
		c.aside = fmt.Sprintf("The strip lies half a hole, %s mm, to the right of the centre, so that sections used before can rest.", number(t.Begin))
	}
	for _, r := range s.Rows {
		if _, err := t.Line(r.Place); err != nil {
			c.leftOut = append(c.leftOut, fmt.Sprintf("The row at %s is not on the card, for this head has no such line: %s.", r.Place, printable.Count(r.Count(), "bond")))
		}
	}
	if n := beyond(c.pieces, t); n > 0 {
		c.leftOut = append(c.leftOut, fmt.Sprintf("The map does not show %s beyond the ends of their lines.", printable.Count(n, "bond")))
	}
	c.open = openFindings(rep)
	c.accepted = acceptedFindings(rep)
	c.totals = totalsOf(s, t, o.Order)
	c.layOut = layOut(s, t, c.pieces, o.Order, o.Units)
	c.steps = stepsOf(s)
	c.home = homeOf(s, o)
	c.lacks = lacks(set, s, o)
	c.showIn(o.Units, s)
	return c
}

// beyond is how many bonds lie where their line does not reach.
func beyond(pieces []tally.Piece, t *slots.Table) int {
	n := 0
	for _, p := range pieces {
		line, err := t.Line(p.Place)
		for _, b := range p.Bonds {
			if err == nil && line.At(b.Slot) == nil {
				n++
			}
		}
	}
	return n
}

// name is what the card is of, on one line.
func (c *content) name() string {
	if c.client == "" {
		return c.title
	}
	return c.title + ", client " + c.client
}

// fittedBy is who fitted last, where a visit says so.
func fittedBy(s *sheet.Sheet) string {
	for _, v := range slices.Backward(s.Visits) {
		if v.Kind.Fits() && v.By != "" {
			return clipped(v.By, longName)
		}
	}
	return ""
}

// holesOf are the holes of a strip: so many, or for one that is cut in parts those of each, "7+8+8", and of many parts their
// number, "25 in 4"; they are as equal as can be.
func holesOf(parts []tally.Strip) string {
	if len(parts) > 3 {
		all := 0
		for _, part := range parts {
			all += part.Holes
		}
		return fmt.Sprintf("%d in %d", all, len(parts))
	}
	words := make([]string, len(parts))
	for i, part := range parts {
		words[i] = fmt.Sprint(part.Holes)
	}
	return strings.Join(words, "+")
}

// lineOf is a piece in the words of the table.
func lineOf(p tally.Piece, keys []byte, t *slots.Table) line {
	l := line{
		panel:   p.Panel.String(),
		place:   number(p.At) + " mm",
		strip:   number(p.Strip.Length),
		holes:   holesOf(tally.Parts(p, t)),
		first:   fromIn(p.Strip.First, p.Place, unit.MM),
		pattern: patternOf(p.Bonds),
		strands: fmt.Sprint(p.Strands),
		kinds:   kindsOf(p.Bonds, keys),
	}
	if p.Along {
		l.place = p.Place.String()
	}
	return l
}

// number is a length to the tenth of a millimetre, without a needless zero.
func number(v scalp.MM) string {
	text := strings.TrimSuffix(fmt.Sprintf("%.1f", float64(v)), ".0")
	if text == "-0" {
		return "0"
	}
	return text
}

// kindsOf are the strands of a piece by shade, and which of them are not whole. The letter of the shade is left out where keys,
// the letters that the sheet uses, are but one.
func kindsOf(bonds []tally.Placed, keys []byte) string {
	counts := map[sheet.Bond]int{}
	for _, b := range bonds {
		counts[b.Bond]++
	}
	var parts []string
	for _, k := range kinds {
		var of []string
		all := 0
		for _, key := range keys {
			n := counts[sheet.Bond{Shade: key, Split: k.Split, Trimmed: k.Trimmed}]
			switch all += n; {
			case n > 0 && len(keys) > 1:
				of = append(of, fmt.Sprintf("%d%s%c", n, letter.NoBreak, key))
			case n > 0:
				of = append(of, fmt.Sprint(n))
			}
		}
		switch text := strings.Join(of, ", "); {
		case of == nil:
		case len(keys) == 1 && all == len(bonds):
			return "all " + kindName(k.Split, k.Trimmed)
		case k == sheet.Bond{} && len(keys) > 1:
			parts = append(parts, text)
		default:
			parts = append(parts, text+letter.NoBreak+kindName(k.Split, k.Trimmed))
		}
	}
	return strings.Join(parts, "; ")
}

func kindName(split, trimmed bool) string {
	switch {
	case split && trimmed:
		return "split and trimmed"
	case split:
		return "split"
	case trimmed:
		return "trimmed"
	}
	return "whole"
}

// shadesUsed are the letters of the shades that have bonds, in the order of the sheet.
func shadesUsed(s *sheet.Sheet) []byte {
	used := map[byte]bool{}
	for _, r := range s.Rows {
		for _, b := range r.All() {
			used[b.Shade] = true
		}
	}
	var keys []byte
	for _, h := range s.Shades {
		if used[h.Key] {
			keys = append(keys, h.Key)
			delete(used, h.Key)
		}
	}
	for key := byte('a'); key <= 'z'; key++ { // those that the sheet has no shade for
		if used[key] {
			keys = append(keys, key)
		}
	}
	return keys
}

// openFindings is how many stops and cautions nobody accepted, in words.
func openFindings(rep *rule.Report) string {
	var parts []string
	if rep.Stops > 0 {
		parts = append(parts, rule.Counted(rep.Stops, "stop"))
	}
	if rep.Cautions > 0 {
		parts = append(parts, rule.Counted(rep.Cautions, "caution"))
	}
	if parts == nil {
		return ""
	}
	return strings.Join(parts, ", ") + " not accepted"
}

// acceptedFindings are the findings that somebody accepted, with the reason, who and when.
func acceptedFindings(rep *rule.Report) []string {
	var list []string
	for _, f := range rep.Findings {
		if f.Accepted == nil {
			continue
		}
		text := fmt.Sprintf("%s %s, %s: %s. Accepted: %s", f.Severity, f.Rule, f.Where(), f.Message(), opening+clipped(f.Accepted.Reason, longReason)+closing)
		var who []string
		for _, part := range []string{named(f.Accepted.By), inWords(f.Accepted.Date)} {
			if part != "" {
				who = append(who, part)
			}
		}
		if who != nil {
			text += " (" + strings.Join(who, ", ") + ")"
		}
		list = append(list, text)
	}
	return list
}

// totalsOf are the counts of the sheet.
func totalsOf(s *sheet.Sheet, t *slots.Table, order *tally.Order) []total {
	sum := tally.Count(s, t)
	list := []total{
		{fmt.Sprint(sum.Bonds()), words(sum.Bonds(), "bond")},
		{fmt.Sprint(sum.Strands), words(sum.Strands, "strand")},
		{fmt.Sprintf("%.1f", sum.Grams), "g"},
		{fmt.Sprint(sum.Packs), words(sum.Packs, "pack")},
	}
	if order != nil && order.Duration > 0 {
		list = append(list, total{inHours(order.Duration), "in the chair"})
	}
	for _, h := range sum.Shades {
		list = append(list, total{string(rune(h.Key)), fmt.Sprintf("%s %s mm: %s", named(h.Name), number(h.Length), packs(h))})
	}
	return list
}

func words(n int, what string) string {
	_, word, _ := strings.Cut(printable.Count(n, what), " ")
	return word
}

func packs(h tally.OfShade) string {
	switch {
	case h.Used > 0:
		return "re-used"
	case h.Pack <= 0:
		return "sold singly"
	}
	return strings.ReplaceAll(printable.Count(h.ToBuy(), "pack"), " ", letter.NoBreak)
}

// inHours is a time in hours and minutes, to the nearest five minutes: it is an estimate.
func inHours(d time.Duration) string {
	minutes := int(d.Round(5*time.Minute) / time.Minute)
	switch h, m := minutes/60, minutes%60; {
	case h == 0:
		return fmt.Sprintf("%d min", m)
	case m == 0:
		return fmt.Sprintf("%d h", h)
	default:
		return fmt.Sprintf("%d h %d min", h, m)
	}
}

// layOut is what lies ready before the first parting: what can be counted on the sheet, and then what is always needed.
func layOut(s *sheet.Sheet, t *slots.Table, pieces []tally.Piece, order *tally.Order, u unit.Unit) []string {
	var list []string
	sum := tally.Count(s, t)
	for _, h := range sum.Shades {
		text := fmt.Sprintf("%c %s: %s", h.Key, named(h.Name), printable.Count(h.Strands(), "strand"))
		if n := spareOf(h, sum, order); n > 0 {
			text += fmt.Sprintf(" and %d spare", n)
		}
		if h.Toned != "" {
			text += ", toned before: " + named(h.Toned)
		}
		if h.Split > 0 {
			text += fmt.Sprintf(", %d of them to split", (h.Split+1)/2)
		}
		list = append(list, text)
	}
	if len(pieces) > 0 {
		length, n := scalp.MM(0), 0
		for _, p := range pieces {
			for _, part := range tally.Parts(p, t) {
				length += part.Length
				n++
			}
		}
		list = append(list, fmt.Sprintf("%s of strip, %s, and clips", printable.Count(n, "piece"), inAll(length, u)))
	}
	for _, it := range care.LayOut {
		list = append(list, it.Do)
	}
	return list
}

// spareOf is how many spare strands of a shade the order has. Shades of one name and length are one line of it; they stand
// with the first.
func spareOf(h tally.OfShade, sum tally.Totals, order *tally.Order) int {
	if order == nil {
		return 0
	}
	same := func(o tally.OfShade) bool {
		return o.Name == h.Name && o.Length == h.Length && (o.Used > 0) == (h.Used > 0)
	}
	if first := slices.IndexFunc(sum.Shades, same); sum.Shades[first].Key != h.Key {
		return 0
	}
	for _, l := range order.Lines {
		if l.Name == h.Name && l.Length == h.Length && l.Reused == (h.Used > 0) {
			return l.Spare
		}
	}
	return 0
}

// stepsOf are the steps of the fitting. What was asked before stands with the first.
func stepsOf(s *sheet.Sheet) []step {
	var list []step
	for i, it := range care.Fitting {
		st := step{do: it.Do}
		if it.Caution != "" {
			st.cautions = append(st.cautions, it.Caution)
		}
		if i == 0 {
			st.cautions = append(st.cautions, askedBefore(s)...)
		}
		list = append(list, st)
	}
	return list
}

// askedBefore is what the consultation has to say before anything is begun.
func askedBefore(s *sheet.Sheet) []string {
	dated := func(what, date string) string {
		if date == "" {
			return what + ": no date on the sheet. "
		}
		return what + ": " + inWords(date) + ". "
	}
	list := []string{strings.TrimSpace(dated("Patch test", s.Asked.PatchTest) + dated("Agreed", s.Asked.Agreed))}
	for _, q := range s.Asked.AnsweredYes() {
		list = append(list, "Yes to "+q.Asks+": a doctor or licensed practitioner decides.")
	}
	open := s.Asked.Open()
	if len(open) == len(sheet.Questions) {
		return append(list, fmt.Sprintf("None of the %d questions about scalp and skin was asked.", len(open)))
	}
	for _, q := range open {
		list = append(list, "Not asked: "+q.Asks+".")
	}
	return list
}

// lacks says which signs of the sheet's text the fonts lack, text by text.
func lacks(set *letter.Setter, s *sheet.Sheet, o Options) []string {
	type text struct{ of, text string }
	texts := []text{{"the title", s.Title}, {"the client's name", s.Client}, {"the stylist's name", fittedBy(s)}, {"the studio's name", o.Studio}, {"the contact", o.Contact}}
	for _, h := range s.Shades {
		texts = append(texts, text{fmt.Sprintf("the name of shade %c", h.Key), h.Name}, text{fmt.Sprintf("the toning of shade %c", h.Key), h.Toned})
	}
	for _, k := range s.KeepOff {
		texts = append(texts, text{"the reason of a patch", k.Why})
	}
	for _, a := range s.Accepted {
		texts = append(texts, text{"the reason of an acceptance", a.Reason}, text{"the name of who accepted", a.By})
	}
	var list []string
	for _, it := range texts {
		if missing := set.Missing(printable.Line(it.text)); missing != nil {
			list = append(list, lacking(it.of, missing))
		}
	}
	return slices.Compact(list)
}

// lacking is which signs of one text the fonts lack. Beyond a few only their number is told.
func lacking(of string, missing []rune) string {
	const most = 6
	var codes []string
	for _, r := range missing[:min(most, len(missing))] {
		codes = append(codes, fmt.Sprintf("U+%04X", r))
	}
	if len(missing) > most {
		codes = append(codes, "…")
	}
	verb := "are"
	if len(missing) == 1 {
		verb = "is"
	}
	return fmt.Sprintf("%s of %s %s not in the card's font: %s", printable.Count(len(missing), "sign"), of, verb, strings.Join(codes, " "))
}

// The marks round a text from the sheet within a sentence of the card, so that text from right to left does not draw the words
// after it into its order (FSI and PDI of UAX 9). They never leave the package: parted takes them out.
const (
	opening = "\u2068"
	closing = "\u2069"
)

// named is a text from the sheet within a sentence, safe to show.
func named(text string) string {
	if text = clipped(text, longName); text == "" {
		return ""
	}
	return opening + text + closing
}

// How long a text from the sheet may be on the card, in signs. Longer ones are cut, and end in an ellipsis.
const (
	longName   = 60
	longText   = 160
	longReason = 400
)

// clipped is a text from the sheet, safe to show and no longer than there is room for.
func clipped(text string, most int) string {
	text = printable.Line(text)
	if runes := []rune(text); len(runes) > most {
		return strings.TrimRight(string(runes[:most-1]), " \u200C\u200D") + "…"
	}
	return text
}

// parted is a sentence as the parts that each have a direction of their own.
func parted(text string) []string {
	return strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune(opening+closing, r) })
}

// unmarked is a sentence without the marks.
func unmarked(text string) string { return strings.Join(parted(text), "") }

// inWords is a date as it is said, "2 March 2026", or what stands there where it is none.
func inWords(date string) string {
	day, err := visit.Day(date)
	if err != nil {
		return clipped(date, longName)
	}
	return day.Format("2 January 2006")
}
