package tui

import (
	"fmt"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
)

// namedKeys are the keys that are no letters.
var namedKeys = map[string]tea.KeyType{
	"Up": tea.KeyUp, "Down": tea.KeyDown, "Left": tea.KeyLeft, "Right": tea.KeyRight,
	"shift+Up": tea.KeyShiftUp, "shift+Down": tea.KeyShiftDown, "shift+Left": tea.KeyShiftLeft, "shift+Right": tea.KeyShiftRight,
	"shift+Home": tea.KeyShiftHome, "shift+End": tea.KeyShiftEnd,
	"Home": tea.KeyHome, "End": tea.KeyEnd, "PgUp": tea.KeyPgUp, "PgDn": tea.KeyPgDown,
	"Enter": tea.KeyEnter, "Esc": tea.KeyEsc, "Tab": tea.KeyTab, "shift+Tab": tea.KeyShiftTab,
	"Delete": tea.KeyDelete, "Backspace": tea.KeyBackspace,
}

// keyMsg is the message for a key by name.
func keyMsg(name string) (tea.KeyMsg, error) {
	if k, ok := namedKeys[name]; ok {
		return tea.KeyMsg{Type: k}, nil
	}
	if name == "space" {
		return tea.KeyMsg{Type: tea.KeySpace, Runes: []rune{' '}}, nil
	}
	if c, ok := strings.CutPrefix(name, "ctrl+"); ok && len(c) == 1 && c[0] >= 'a' && c[0] <= 'z' {
		return tea.KeyMsg{Type: tea.KeyCtrlA + tea.KeyType(c[0]-'a')}, nil
	}
	if r := []rune(name); len(r) == 1 {
		return tea.KeyMsg{Type: tea.KeyRunes, Runes: r}, nil
	}
	return tea.KeyMsg{}, fmt.Errorf("there is no key %q", name)
}

// nameOf is the name of a key of the table of commands.
func nameOf(bound string) string {
	for name, k := range namedKeys {
		if (tea.KeyMsg{Type: k}).String() == bound {
			return name
		}
	}
	if bound == " " {
		return "space"
	}
	return bound
}

func TestEveryBoundKeyCanBePressed(t *testing.T) {
	for _, c := range commands {
		for _, bound := range c.bind.Keys() {
			msg, err := keyMsg(nameOf(bound))
			if err != nil {
				t.Error(err)
			} else if msg.String() != bound {
				t.Errorf("the key %s sends %q, want %q", nameOf(bound), msg.String(), bound)
			}
		}
	}
}

// A key that two commands want would only ever run the first.
func TestNoKeyIsBoundTwice(t *testing.T) {
	taken := map[string]string{}
	for _, c := range commands {
		for _, k := range c.bind.Keys() {
			if other, ok := taken[k]; ok {
				t.Errorf("%q is bound to %q and to %q", k, other, c.bind.Help().Desc)
			}
			taken[k] = c.bind.Help().Desc
		}
	}
}
