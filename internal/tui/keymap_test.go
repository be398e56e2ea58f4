package tui

import (
	"io"
	"slices"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/muesli/termenv"

	"example.org/underveil/internal/cells"
	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/lesson"
	"example.org/underveil/internal/settings"
)

// ids are what commands are called in settings, where they stay what they are for good: whoever renames one takes a key away from
// somebody. A new command goes to its place.
const ids = `left right up down up-five down-five line-start line-end centre turn place paint plan in-hand every-slot every-second
every-third every-fourth pattern split trim offset both-sides row-left row-right copy-row lay-row clear row-look select-left select-right
select-up select-down select-start select-end select-panel move as-in-hand select-nothing next-finding fix finding-before explain why accept
limits card fit inspect visits exercise ask-rules name-fault record projector undo save keep-off redo save-as earlier client consultation
match order shades new open leave keys side reading reading-before weeks head turn-left turn-right see-higher see-lower beside choose-beside
columns letters mouse redraw`

func TestCommandsKeepTheirNames(t *testing.T) {
	var got []string
	for _, c := range Commands() {
		if slices.Contains(got, c.ID) {
			t.Errorf("two commands are called %s", c.ID)
		}
		got = append(got, c.ID)
		if strings.Trim(c.ID, "abcdefghijklmnopqrstuvwxyz-") != "" {
			t.Errorf("a command is called %q", c.ID)
		}
	}
	if want := strings.Fields(ids); !slices.Equal(got, want) {
		t.Errorf("the commands are called\n%s\nwant\n%s", got, want)
	}
	if len(got) != len(commands) {
		t.Errorf("%d of %d commands are listed", len(got), len(commands))
	}
}

// Every key that a setting may name is one that the terminal library reports by that name, and every key of the table is one that a setting
// may name.
func TestEverySettableKeyIsReported(t *testing.T) {
	reported := map[string]bool{}
	for k := tea.KeyType(-200); k < 200; k++ {
		reported[tea.KeyMsg{Type: k}.String()] = true
	}
	keys := settings.NamedKeys()
	for c := 'a'; c <= 'z'; c++ {
		if key, problem, _ := settings.Key("ctrl+" + string(c)); problem == "" {
			keys = append(keys, key)
		}
	}
	for _, key := range boundTo(keys) {
		if !reported[key] {
			t.Errorf("no key is reported as %q", key)
		}
	}
	for _, typed := range []rune{'u', 'U', 'é', 'ж', '漢', '+'} {
		if msg := (tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{typed}}); msg.String() != string(typed) {
			t.Errorf("%q is reported as %q", typed, msg)
		}
		alt, problem, _ := settings.Key("alt+" + string(typed))
		if msg := (tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{typed}, Alt: true}); problem == "" && msg.String() != alt {
			t.Errorf("%q is reported as %q", alt, msg)
		}
	}
	for _, c := range Commands() {
		for _, key := range c.Keys {
			if name, problem, _ := settings.Key(key); name != key {
				t.Errorf("%s: a setting reads %q as %q %s", c.ID, key, name, problem)
			}
		}
		if c.Stays != "" && !slices.Contains(c.Keys, c.Stays) {
			t.Errorf("%s does not come with %s", c.ID, c.Stays)
		}
	}
}

// withKeys is an editor on a sheet with one row, whose commands were given keys.
func withKeys(t *testing.T, given map[string][]string) *editor {
	t.Helper()
	e := edit(t, plainSheet(t).WithRow(parseRow(t, "60 (a)")), setup{})
	e.m.keymap = newKeymap(given)
	e.m.doc.keys = e.m.keymap
	e.at(height(60), 1)
	return e
}

// A command runs by the keys that it was given, and by no others.
func TestGivenKeys(t *testing.T) {
	e := withKeys(t, map[string][]string{"place": {"ж", "f5"}, "undo": {"ctrl+z"}, "right": {"l"}, "row-look": {"L"}, "letters": {}})
	before := e.encoded()
	e.press("space")
	if e.encoded() != before {
		t.Error("space places, and was given away")
	}
	e.press("ж")
	e.rowIs("(a)a")
	e.send(tea.KeyMsg{Type: tea.KeyF5})
	e.rowIs("(a)")
	e.press("ctrl+z")
	e.rowIs("(a)a")
	e.press("u")
	e.says("no command is on u; ? shows the keys")
	e.press("l")
	if e.m.doc.cursor.Slot != 2 {
		t.Errorf("the cursor is on slot %d, want 2", e.m.doc.cursor.Slot)
	}
	e.press("L")
	if row, _ := e.m.doc.sheet().Row(height(60)); row.Look == "" || e.m.letters {
		t.Errorf("the row is for %q, letters %v", row.Look, e.m.letters)
	}
}

// The way out and the page of keys are there whatever is set.
func TestKeysThatStay(t *testing.T) {
	given := map[string][]string{}
	for _, c := range commands {
		given[c.id] = []string{}
	}
	e := withKeys(t, given)
	e.press("?")
	if _, ok := e.m.dialogs[0].(*keyPage); !ok {
		t.Errorf("? shows\n%s", e.m.Screen())
	}
	e.says(noKey)
	e.press("Esc", "ctrl+c")
	if !e.quit {
		t.Error("ctrl+c does not leave")
	}
	for id, key := range stays {
		if got := newKeymap(given).of(id); got != key {
			t.Errorf("%s has %q, want %s", id, got, key)
		}
	}
}

// The bottom line, the page of keys and what is told name the keys in force.
func TestGivenKeysAreShown(t *testing.T) {
	e := withKeys(t, map[string][]string{"place": {"ж"}, "undo": {"ctrl+z", "u"}, "in-hand": {}, "left": {"h"}, "split": {"alt+h"}, "mouse": {"f6"},
		"select-up": {"ctrl+up"}, "fix": {"f9"}})
	line := e.term.Row(e.m.scr.H - 1)
	for _, want := range []string{"ж place", "ctrl+z undo", "F9 fix", "r row", "? keys"} {
		if !strings.Contains(line, want) {
			t.Errorf("the bottom line does not say %q: %s", want, line)
		}
	}
	if strings.Contains(line, "in hand") {
		t.Errorf("the bottom line has a command without a key: %s", line)
	}
	listed := map[string]string{}
	for _, k := range e.m.keymap.help() {
		listed[k.Does] = k.Keys
	}
	for does, want := range map[string]string{"one slot left or right": "h →", "place a bond, or lift the one there": "ж", "take the last step back": "ctrl+z u",
		"what is in hand: pattern, strand, shades, offset": noKey, "select a stretch": "shift+← shift+→ ctrl+↑ shift+↓", "one line up or down": "↑ ↓",
		"explain the finding in view": "e", "leave": "q"} {
		if listed[does] != want {
			t.Errorf("%s: the keys are %q, want %q", does, listed[does], want)
		}
	}
	e.press("?", "PgDn")
	e.says("shift+← shift+→ ctrl+↑ shift+↓")
	e.press("Esc")
	e.send(tea.KeyMsg{Type: tea.KeyF6})
	e.says("F6 turns it on")
}

// While a selection is carried, the keys given to the arrows' commands carry it, and the arrows themselves do too.
func TestCarryWithGivenKeys(t *testing.T) {
	e := withKeys(t, map[string][]string{"right": {"l"}, "row-look": {"right"}, "move": {"ctrl+g"}})
	e.press("ctrl+g", "l", "Right", "ctrl+g")
	e.rowIs("(.).a")
	if e.m.doc.moving != nil {
		t.Error("the selection is still carried")
	}
}

// Steps of a demonstration have the commands of the screen by the keys given to them.
func TestStepsWithGivenKeys(t *testing.T) {
	e := edit(t, plainSheet(t), setup{})
	e.m.keymap = newKeymap(map[string][]string{"projector": {"f7"}, "letters": {"X"}, "place": {"f8"}})
	e.m.demonstrate(&lesson.Script{Title: "to look at", Start: plainSheet(t), Steps: []lesson.Step{{Did: "a row", Sheet: plainSheet(t).WithRow(parseRow(t, "60 (a)"))}}}, nil)
	e.send(tea.KeyMsg{Type: tea.KeyF7})
	if !e.m.enlarged {
		t.Error("F7 does not make it large")
	}
	e.press("X")
	if !e.m.letters || !e.m.enlarged {
		t.Errorf("letters %v, large %v", e.m.letters, e.m.enlarged)
	}
	e.send(tea.KeyMsg{Type: tea.KeyF8})
	e.says("no command is on f8 here")
}

// With no keys given all is as in the table; with every command given its own keys the same keys run the same commands.
func TestOwnKeysGiven(t *testing.T) {
	given := map[string][]string{}
	for _, c := range Commands() {
		given[c.ID] = c.Keys
	}
	k := newKeymap(given)
	for i, c := range k.commands {
		if !slices.Equal(c.bind.Keys(), commands[i].bind.Keys()) {
			t.Errorf("%s has the keys %q, want %q", c.id, c.bind.Keys(), commands[i].bind.Keys())
		}
	}
	if !slices.Equal(KeysWith(map[string][]string{}), Keys()) {
		t.Error("with nothing given other keys are listed")
	}
	if len(k.help()) != len(Keys()) {
		t.Errorf("%d lines of keys, want %d", len(k.help()), len(Keys()))
	}
}

// What is set besides keys: the paper of a card, the mouse, and what is told.
func TestOptionsFromSettings(t *testing.T) {
	m := New(io.Discard, Options{Glyphs: figure.Unicode, Palette: cells.NewPalette(termenv.Ascii, figure.Styles(true)), Files: newDisk().files(),
		Keys: map[string][]string{"card": {"f4"}}, Paper: "letter", NoMouse: true, Warn: "the settings can't be read"})
	m.Update(tea.WindowSizeMsg{Width: 120, Height: 40})
	if !strings.Contains(m.Screen().String(), "the settings can't be read") {
		t.Errorf("the start page does not say it:\n%s", m.Screen())
	}
	m.Update(loadedMsg{sheet: plainSheet(t), path: "sheet.toml", notices: []string{"remarks are lost"}})
	if !strings.Contains(m.Screen().String(), "the settings can't be read") {
		t.Errorf("below the map it does not say so:\n%s", m.Screen())
	}
	m.Update(tea.KeyMsg{Type: tea.KeyF4})
	if !strings.Contains(m.Screen().String(), "Letter") {
		t.Errorf("the card is for\n%s", m.Screen())
	}
	m.Update(tea.KeyMsg{Type: tea.KeyEsc})
	m.Update(mustKey(t, "x"))
	if !strings.Contains(m.Screen().String(), "mouse on") {
		t.Errorf("the mouse was not off:\n%s", m.Screen())
	}
}
