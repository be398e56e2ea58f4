package tui

import (
	"errors"
	"fmt"
	"math"
	"reflect"
	"slices"
	"strconv"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/underveil/internal/fibre"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
	"example.org/underveil/internal/unit"
)

// The names of the client form's fields.
const (
	fTitle    = "title"
	fClient   = "client"
	fSize     = "start from"
	fRound    = "circumference"
	fEars     = "ear to ear"
	fOver     = "front to nape"
	fNape     = "nape width"
	fLong     = "own hair"
	fDensity  = "density"
	fTail     = "ponytail"
	fCount    = "count"
	fTexture  = "texture"
	fWish     = "wishes"
	fWorn     = "worn"
	fPart     = "parting"
	fPartLong = "part length"
	fOther    = "other parting"
	fTo       = "length to"
	fVolume   = "volume"
	fLights   = "highlights"
)

const asMeasured = "as measured"

const safety = "A sheet is a plan, not a permission: the patch test, the look at the scalp and your local codes come first."

// clientFields are the fields of the form, filled in from a sheet.
func clientFields(s *sheet.Sheet) []*field {
	sizes := []string{asMeasured}
	for _, z := range scalp.Sizes {
		sizes = append(sizes, z.Name)
	}
	var parting scalp.Parting
	other := ""
	if len(s.Partings) > 0 {
		parting = s.Partings[0]
	}
	if len(s.Partings) > 1 {
		other = plainNumber(float64(s.Partings[1].Right))
	}
	want := s.Amounts.Wanted()
	size := choiceField(fSize, sizes, asMeasured, sizeHint)
	size.changed = fillSize()
	return []*field{
		textField(fTitle, s.Title, "what this sheet is"),
		textField(fClient, s.Client, "a number or initials; a name need not be in the file"),
		size,
		numberField(fRound, float64(s.Measures.Circumference), "mm, round the widest part, over the brow and the back of the head"),
		numberField(fEars, float64(s.Measures.EarToEar), "mm, over the top, from the notch before one ear canal to the other"),
		numberField(fOver, float64(s.Measures.FrontToNape), "mm, over the top, from the front hairline to the nape hairline"),
		numberField(fNape, float64(s.Measures.NapeWidth), "mm, level, between the corners of the nape hairline, 10 mm up"),
		numberField(fLong, float64(s.Hair.Length), "mm, the client's own, from root to end; empty when it is not known"),
		choiceField(fDensity, append([]string{notSaid}, sheet.Densities...), orNotSaid(s.Hair.Density), "how thick it looks, by eye; what is measured or counted goes before it"),
		numberField(fTail, float64(s.Hair.Ponytail), "mm round all the hair tied tightly, if measured; goes before the eye"),
		numberField(fCount, s.Hair.Count, "hairs on a cm² at the back of the head, if counted; goes before both").in(""),
		choiceField(fTexture, append([]string{notSaid}, sheet.Textures...), orNotSaid(s.Hair.Texture), "how it falls"),
		marksField(fWish, words(sheet.Looks), func(w string) bool { return s.Wishes(sheet.Look(w)) }, "space marks what is wished for; how much of it stands below"),
		numberField(fTo, float64(want.Length), "mm that the hair is to have, where length is wished for"),
		textField(fVolume, plainNumber(want.Volume), "% of the own hairs to be added, where volume is wished for; a fifth is usual").in("%"),
		textField(fLights, strconv.Itoa(want.Highlights), "bonds for highlights, where they are wished for").in(""),
		marksField(fWorn, words(sheet.Wears), func(w string) bool { return s.Wears(sheet.Wear(w)) }, "space marks each way; none means down; a ponytail raises the nape limit"),
		numberField(fPart, float64(parting.Right), "mm to the right of the middle, over the ears; left is negative"),
		numberField(fPartLong, float64(parting.Length), "mm, from the front hairline back; 0 is no parting"),
		textField(fOther, other, "where the parting is worn at times: mm to the right of the middle; empty where it never moves").in("mm"),
	}
}

// notSaid stands in the form for what nobody has looked at yet.
const notSaid = "not said"

func orNotSaid(word string) string {
	if word == "" {
		return notSaid
	}
	return word
}

func said(f *field) string {
	if f.choice() == notSaid {
		return ""
	}
	return f.choice()
}

func words[T ~string](list []T) []string {
	out := make([]string, len(list))
	for i, w := range list {
		out[i] = string(w)
	}
	return out
}

// fillSize puts the tapes of a size into the form as it is chosen, and those that were typed
// back again.
func fillSize() func(*form) {
	before, typed := asMeasured, map[string]string{}
	return func(fm *form) {
		size := fm.find(fSize)
		if size.choice() == before {
			return
		}
		if before == asMeasured {
			for _, name := range tapeNames {
				typed[name] = fm.find(name).kept()
			}
		}
		before = size.choice()
		if size.hint = sizeHint; before == asMeasured {
			for name, v := range typed {
				fm.find(name).put(v)
			}
		}
		for _, z := range scalp.Sizes {
			if z.Name != before {
				continue
			}
			size.hint = z.Basis
			m := z.Measures
			for i, v := range []scalp.MM{m.Circumference, m.EarToEar, m.FrontToNape, m.NapeWidth} {
				fm.find(tapeNames[i]).put(plainNumber(float64(v)))
			}
		}
	}
}

// tapeNames are the fields of the four tapes.
var tapeNames = []string{fRound, fEars, fOver, fNape}

const sizeHint = "four ordinary heads to start from without a tape; left and right choose"

// newClientForm edits the client of the sheet that is open.
func newClientForm(m *Model) *form {
	old := m.doc.sheet()
	return &form{title: "the client", note: safety, long: true, fields: clientFields(old), take: confirmed(func(m *Model, fm *form, sure bool) (tea.Cmd, error) {
		s, err := readClient(old, fm, sure)
		if err != nil {
			return nil, err
		}
		return nil, m.doc.do("change the client", s)
	})}
}

// newSheetForm begins a sheet.
func newSheetForm() *form {
	start := sheet.New(scalp.Sizes[1].Measures)
	fm := &form{title: "a new sheet", note: safety, long: true, fields: clientFields(start)}
	for i, f := range fm.fields {
		if f.name == fRound {
			fm.at = i
		}
	}
	fm.take = confirmed(func(m *Model, fm *form, sure bool) (tea.Cmd, error) {
		s, err := readClient(start, fm, sure)
		if err != nil {
			return nil, err
		}
		if st := m.opts.Studio; st != nil {
			s = st.First(s)
		}
		d, err := newDocument(m.house(s), "", m.table())
		if err != nil {
			return nil, err
		}
		m.open(d)
		return nil, nil
	})
	return fm
}

// confirmed lets a form be taken with measures that no survey has seen, when Enter
// is pressed a second time.
func confirmed(take func(*Model, *form, bool) (tea.Cmd, error)) func(*Model, *form) (tea.Cmd, error) {
	asked := ""
	return func(m *Model, fm *form) (tea.Cmd, error) {
		cmd, err := take(m, fm, asked != "" && asked == fm.tapes())
		var unusual *scalp.MeasureError
		if errors.As(err, &unusual) && unusual.Soft {
			asked = fm.tapes()
			return nil, fmt.Errorf("%w. Enter again takes them as they are", err)
		}
		return cmd, err
	}
}

func (fm *form) tapes() string {
	all := ""
	for _, name := range tapeNames {
		all += fm.find(name).text() + " "
	}
	return all
}

// readClient is the sheet with what the form says. sure takes unusual measures.
func readClient(s *sheet.Sheet, fm *form, sure bool) (*sheet.Sheet, error) {
	num := map[string]float64{}
	for _, f := range []struct {
		name      string
		low, high float64
		read      func(*field, float64, float64) (float64, error)
	}{
		{fRound, 1, 2000, (*field).number}, {fEars, 1, 2000, (*field).number}, {fOver, 1, 2000, (*field).number}, {fNape, 1, 1000, (*field).number},
		{fLong, 1, 2000, (*field).numberIfKnown},
		{fTail, float64(sheet.MinPonytail), float64(sheet.MaxPonytail), (*field).numberIfKnown},
		{fCount, float64(fibre.LeastDensity), float64(fibre.MostDensity), (*field).numberIfKnown},
		{fTo, float64(sheet.MinLength), float64(sheet.MaxLength), (*field).number}, {fVolume, 1, sheet.MaxVolume, (*field).number},
		{fLights, 1, float64(sheet.MaxHighlights), (*field).whole},
		{fPart, -80, 80, (*field).number}, {fPartLong, 0, 250, (*field).number},
	} {
		v, err := f.read(fm.find(f.name), f.low, f.high)
		if err == nil && slices.Contains(tapeNames, f.name) && f.name != fNape && fm.find(f.name).units == unit.MM {
			err = otherUnit(f.name, v)
		}
		if err != nil {
			return nil, err
		}
		num[f.name] = v
	}
	measures := scalp.Measures{
		Circumference: scalp.MM(num[fRound]), EarToEar: scalp.MM(num[fEars]),
		FrontToNape: scalp.MM(num[fOver]), NapeWidth: scalp.MM(num[fNape]), Confirmed: sure,
	}
	if old := s.Measures; old.Confirmed { // what was confirmed once need not be again
		unsure := old
		unsure.Confirmed = false
		if measures == unsure {
			measures = old
		}
	}
	partings, err := readPartings(s, fm, scalp.Parting{Right: scalp.MM(num[fPart]), Length: scalp.MM(num[fPartLong])})
	if err != nil {
		return nil, err
	}
	next := s.With(func(c *sheet.Sheet) {
		c.Title, c.Client, c.Measures = fm.find(fTitle).text(), fm.find(fClient).text(), measures
		c.Hair.Length, c.Hair.Density, c.Hair.Texture = scalp.MM(num[fLong]), said(fm.find(fDensity)), said(fm.find(fTexture))
		c.Hair.Ponytail, c.Hair.Count = scalp.MM(num[fTail]), num[fCount]
		c.Wish = marks(fm.find(fWish), s.Wish)
		c.Amounts = amounts(s, sheet.Amounts{Length: scalp.MM(num[fTo]), Volume: num[fVolume], Highlights: int(num[fLights])})
		c.Worn = marks(fm.find(fWorn), s.Worn)
		c.Partings = partings
	})
	if next.Title == "" {
		next.Title = "new sheet"
	}
	if reflect.DeepEqual(next, s) {
		return s, nil // nothing to take back
	}
	head, err := slots.Outline(next)
	if err == nil && slots.Taped(next) {
		if d := head.OfTape(next); d > fibre.MostDensity {
			err = &fieldError{fTail, fmt.Sprintf("%g mm would be %.0f hairs on a cm² of this head, and heads have up to %.0f; measure the tied bundle alone, pulled tight",
				float64(next.Hair.Ponytail), float64(d), float64(fibre.MostDensity))}
		}
	}
	return next, err
}

// otherUnit refuses a tape round or over the head that would be one in cm or in inches, but not in mm. No
// figure would be in both: such tapes are 280 to 700 mm long.
func otherUnit(name string, v float64) error {
	switch {
	case v >= 11 && v < 28:
		return &fieldError{name, fmt.Sprintf("%g mm is no head; if it is in inches, that is %s mm", v, plainNumber(math.Round(254*v)/10))}
	case v >= 28 && v < 80:
		return &fieldError{name, fmt.Sprintf("%g mm is no head; if it is in cm, that is %g mm", v, 10*v)}
	}
	return nil
}

// marks are the options marked: those that were there before in their old order, for the first wish is
// what a row is for that does not say, and then the new ones.
func marks[T ~string](f *field, before []T) []T {
	var out []T
	for _, o := range before {
		if i := slices.Index(f.options, string(o)); i >= 0 && f.marked[i] {
			out = append(out, o)
		}
	}
	for i, o := range f.options {
		if f.marked[i] && !slices.Contains(before, T(o)) {
			out = append(out, T(o))
		}
	}
	return out
}

// amounts are those typed; one that stands in the form as it is usual, and that nobody has said, goes on unsaid.
func amounts(s *sheet.Sheet, typed sheet.Amounts) sheet.Amounts {
	was, shown := s.Amounts, s.Amounts.Wanted()
	if was.Length == 0 && typed.Length == shown.Length {
		typed.Length = 0
	}
	if was.Volume == 0 && typed.Volume == shown.Volume {
		typed.Volume = 0
	}
	if was.Highlights == 0 && typed.Highlights == shown.Highlights {
		typed.Highlights = 0
	}
	return typed
}

// readPartings are the partings of the sheet with another first and second one. The first goes where it has no length,
// the second where it is left empty; it is as long as it was, or as the first.
func readPartings(s *sheet.Sheet, fm *form, first scalp.Parting) ([]scalp.Parting, error) {
	var list, rest []scalp.Parting
	if first.Length > 0 {
		list = append(list, first)
	}
	second := scalp.Parting{Length: first.Length}
	if first.Length == 0 {
		second.Length = sheet.New(s.Measures).Partings[0].Length
	}
	if len(s.Partings) > 1 {
		second, rest = s.Partings[1], s.Partings[2:]
	}
	if f := fm.find(fOther); f.text() != "" {
		right, err := f.number(-80, 80)
		if err != nil {
			return nil, err
		}
		if second.Right = scalp.MM(right); second.Length > 0 {
			list = append(list, second)
		}
	}
	return append(list, rest...), nil
}
