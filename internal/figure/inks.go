package figure

import (
	"example.org/underveil/internal/cells"
	"example.org/underveil/internal/rule"
)

// The inks of the whole program. A state is told by its glyph; an ink only adds to it.
const (
	Plain cells.Ink = iota
	Dim
	Strong
	Title
	Key
	Scalp
	NapeInk
	EarInk
	TempleInk
	FringeInk
	PartInk
	FaceInk
	KeepOffInk
	Label
	StopInk
	CautionInk
	NoteInk
	GoodInk
	Picked                           // the selection, where it has no bond
	Cursor                           // the slot that the keys act on
	Field                            // an entry in a form
	FieldOn                          // the entry being typed in
	Frame                            // the edge of a dialog
	stepInk                          // first of rule.Steps, from the worst step of a reading to the best
	shadeInk = iota + rule.Steps - 1 // first of shadeInks, and after them as many for selected bonds
)

const shadeInks = 6

// pickedShade is the ink of a bond that is selected, for the ink that it has otherwise.
func pickedShade(ink cells.Ink) cells.Ink { return ink + shadeInks }

// Shade is the ink of a bond of the n-th shade of a sheet.
func Shade(n int) cells.Ink { return shadeInk + cells.Ink(n%shadeInks) }

// Styles are the looks of all inks on a dark or a light background.
func Styles(dark bool) []cells.Style {
	pick := func(onDark, onLight string) string {
		if dark {
			return onDark
		}
		return onLight
	}
	styles := make([]cells.Style, int(shadeInk)+2*shadeInks)
	set := func(ink cells.Ink, s cells.Style) { styles[ink] = s }
	const grey = "8"
	set(Plain, cells.Style{})
	set(Dim, cells.Style{Fore: pick("#8b93a1", "#5f6773"), Fore16: grey})
	set(Strong, cells.Style{Bold: true})
	set(Title, cells.Style{Fore: pick("#e9d8b4", "#6b4a12"), Bold: true, Fore16: pick("15", "0")})
	set(Key, cells.Style{Fore: pick("#9ecbff", "#1d4f91"), Bold: true, Fore16: pick("14", "4")})
	set(Scalp, cells.Style{Fore: pick("#5b6472", "#a3a9b3"), Fore16: grey})
	set(NapeInk, cells.Style{Fore: pick("#5f7f86", "#4f7f88"), Fore16: "6"})
	set(EarInk, cells.Style{Fore: pick("#6f7796", "#5f6aa0"), Fore16: "4"})
	set(TempleInk, cells.Style{Fore: pick("#86708f", "#8a62a0"), Fore16: "5"})
	set(FringeInk, cells.Style{Fore: pick("#5f8a6f", "#4f8a66"), Fore16: "2"})
	set(PartInk, cells.Style{Fore: pick("#8f8358", "#8a7430"), Fore16: "3"})
	set(FaceInk, cells.Style{Fore: pick("#8f6a6a", "#a06060"), Fore16: "5"})
	set(KeepOffInk, cells.Style{Fore: pick("#b07a7a", "#a05555"), Fore16: "1"})
	set(Label, cells.Style{Fore: pick("#a9b1bf", "#4d5562"), Fore16: pick("7", "8")})
	set(StopInk, cells.Style{Fore: pick("#ff6b6b", "#b3261e"), Bold: true, Fore16: pick("9", "1")})
	set(CautionInk, cells.Style{Fore: pick("#ffc861", "#8a5a00"), Bold: true, Fore16: pick("11", "3")})
	set(NoteInk, cells.Style{Fore: pick("#8ab4f8", "#2a5ea8"), Fore16: pick("12", "4")})
	set(GoodInk, cells.Style{Fore: pick("#7fcf9b", "#1f7a43"), Fore16: pick("10", "2")})
	picked := cells.Style{Fore: pick("#6d8099", "#7d8ea6"), Back: pick("#23364f", "#cfdff3"), Fore16: pick("7", "0"), Back16: pick("4", "6"), Under: true}
	set(Picked, picked)
	set(Cursor, cells.Style{Reverse: true, Bold: true, Under: true})
	set(Field, cells.Style{Under: true})
	set(FieldOn, cells.Style{Bold: true, Under: true, Fore: pick("#ffe3a6", "#5a3c00"), Fore16: pick("15", "0")})
	set(Frame, cells.Style{Fore: pick("#6c7686", "#8b93a1"), Fore16: grey})
	steps := [rule.Steps][4]string{
		{"#b98080", "#a34f4f", "1", "1"}, {"#a89668", "#8a7430", "3", "3"}, {"#5f7f86", "#6f959c", "6", "6"}, {"#5b6472", "#a3a9b3", grey, grey},
	}
	for i, c := range steps {
		set(stepInk+cells.Ink(i), cells.Style{Fore: pick(c[0], c[1]), Fore16: pick(c[2], c[3])})
	}
	bonds := [shadeInks][4]string{
		{"#f6dca6", "#7a4f00", "11", "3"}, {"#f0a878", "#9a3f10", "9", "1"}, {"#cdbcf7", "#5b3fa8", "13", "5"},
		{"#8fdccd", "#0b6b5b", "14", "6"}, {"#f5a6bf", "#9c2452", "12", "4"}, {"#b3d98a", "#3f6b0f", "10", "2"},
	}
	for i, b := range bonds {
		shade := cells.Style{Fore: pick(b[0], b[1]), Fore16: pick(b[2], b[3]), Bold: true}
		set(Shade(i), shade)
		shade.Back, shade.Back16, shade.Under, shade.Bold = picked.Back, picked.Back16, true, false
		set(pickedShade(Shade(i)), shade)
	}
	return styles
}

// Contrast are the looks of all inks for eyes that need it and for a projector, which washes out what is dim: plain black or white, pure
// colours, and blocks of colour for what is found. They stand in the order of Styles.
func Contrast(dark bool) []cells.Style {
	pick := func(onDark, onLight string) string {
		if dark {
			return onDark
		}
		return onLight
	}
	styles := Styles(dark)
	set := func(ink cells.Ink, s cells.Style) { styles[ink] = s }
	plain := cells.Style{Fore: pick("#ffffff", "#000000"), Fore16: pick("15", "0")}
	strong := plain
	strong.Bold = true
	for _, ink := range []cells.Ink{Dim, Label, Frame} { // Plain is the terminal's own, as it has to be
		set(ink, plain)
	}
	set(Strong, strong)
	set(Scalp, cells.Style{Fore: pick("#b4bcc8", "#3c4450"), Fore16: pick("7", "0")}) // or the bonds would not stand out
	set(Title, cells.Style{Fore: pick("#ffe14d", "#6b3a00"), Fore16: pick("11", "0"), Bold: true})
	set(Key, cells.Style{Fore: pick("#5fd7ff", "#0037c8"), Fore16: pick("14", "4"), Bold: true})
	set(GoodInk, cells.Style{Fore: pick("#4dff88", "#00571c"), Fore16: pick("10", "2"), Bold: true})
	set(NoteInk, cells.Style{Fore: pick("#7cc4ff", "#0037c8"), Fore16: pick("14", "4"), Bold: true})
	set(StopInk, cells.Style{Fore: "#ffffff", Back: pick("#d80000", "#c00000"), Fore16: "15", Back16: "1", Bold: true})
	set(CautionInk, cells.Style{Fore: "#000000", Back: pick("#ffc400", "#ffb300"), Fore16: "0", Back16: "3", Bold: true})
	picked := cells.Style{Fore: pick("#ffffff", "#000000"), Back: pick("#00378a", "#b9e0ff"), Fore16: pick("15", "0"), Back16: pick("4", "6"), Under: true}
	set(Picked, picked)
	for i := range shadeInks {
		ink := pickedShade(Shade(i))
		shade := picked // of 16 colours some can't be told from that behind them
		shade.Fore = styles[ink].Fore
		set(ink, shade)
	}
	for ink, c := range map[cells.Ink][4]string{
		NapeInk: {"#00e5ff", "#006d7a", "14", "6"}, EarInk: {"#6f9dff", "#1f3fc0", "12", "4"}, TempleInk: {"#ff7bff", "#8a009e", "13", "5"},
		FringeInk: {"#3dff6e", "#00701f", "10", "2"}, PartInk: {"#ffe14d", "#7a5c00", "11", "3"}, FaceInk: {"#ff9b6b", "#a83200", "9", "1"},
		KeepOffInk: {"#ff6b6b", "#c00000", "9", "1"},
	} {
		set(ink, cells.Style{Fore: pick(c[0], c[1]), Fore16: pick(c[2], c[3])})
	}
	for i, c := range [rule.Steps][4]string{ // no red and no yellow, out of which a stop or a caution would have to stand
		{"#b48cff", "#6a1fc0", "13", "5"}, {"#6f9dff", "#1f3fc0", "12", "4"}, {"#00e5ff", "#006d7a", "14", "6"}, {"#ffffff", "#000000", "15", "0"},
	} {
		set(stepInk+cells.Ink(i), cells.Style{Fore: pick(c[0], c[1]), Fore16: pick(c[2], c[3])})
	}
	return styles
}

// Glyphs are the marks of the map. Each is one cell wide.
type Glyphs struct {
	Whole, Split, Trimmed, SplitTrimmed rune
	Scalp, Hatch, PartHatch, KeepOff    rune
	Stop, Caution                       rune
	Here                                rune // beside the line that the cursor is on
	Cross                               rune // the cursor on an empty slot
	Across, Down                        rune // frames
	Corners                             [4]rune
	Dots                                rune
	Steps                               [rule.Steps]rune // of a reading, the worst first
	Whorl, Tie                          rune
	More                                [2]rune // more above, more below
	Dash                                string  // between parts of a line of text
	Ring, Done, Good, Gone, Block       rune    // at the chair: hair pulled, bonded, sealed, left out; a dot of large letters
	Doubt                               rune    // a bond that a learner has marked as wrong
}

// Unicode and ASCII are the two sets of marks.
var (
	Unicode = Glyphs{
		Whole: '●', Split: '◐', Trimmed: '◒', SplitTrimmed: '◔',
		Scalp: '·', Hatch: '░', PartHatch: '╱', KeepOff: '×',
		Stop: '╳', Caution: '◇', Here: '›', Cross: '+', Across: '─', Down: '│',
		Corners: [4]rune{'╭', '╮', '╰', '╯'}, Dots: '…', Dash: " · ",
		Steps: [...]rune{'▓', '▒', '░', '·'}, Whorl: '◎', Tie: '⊗', More: [2]rune{'▲', '▼'},
		Ring: '○', Done: '■', Good: '✓', Gone: '–', Block: '█', Doubt: '?',
	}
	ASCII = Glyphs{
		Whole: 'O', Split: 'C', Trimmed: 'u', SplitTrimmed: 'c',
		Scalp: '.', Hatch: ':', PartHatch: '/', KeepOff: 'x',
		Stop: 'X', Caution: '!', Here: '>', Cross: '+', Across: '-', Down: '|',
		Corners: [4]rune{'+', '+', '+', '+'}, Dots: '.', Dash: " - ",
		Steps: [...]rune{'#', '=', '-', '.'}, Whorl: '@', Tie: '*', More: [2]rune{'^', 'v'},
		Ring: '%', Done: '#', Good: '=', Gone: '-', Block: '#', Doubt: '?',
	}
)
