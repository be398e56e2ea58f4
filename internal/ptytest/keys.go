package ptytest

import (
	"fmt"
	"strings"
)

// arrows end "ESC [ letter", or "ESC [ 1 ; modifiers letter".
var arrows = map[string]string{
	"Up": "A", "Down": "B", "Right": "C", "Left": "D", "End": "F", "Home": "H",
}

// firstFunctionKeys end "ESC O letter", or "ESC [ 1 ; modifiers letter".
var firstFunctionKeys = map[string]string{"F1": "P", "F2": "Q", "F3": "R", "F4": "S"}

// tildeKeys are "ESC [ number ~", or "ESC [ number ; modifiers ~".
var tildeKeys = map[string]string{
	"Insert": "2", "Delete": "3", "PgUp": "5", "PgDn": "6",
	"F5": "15", "F6": "17", "F7": "18", "F8": "19", "F9": "20", "F10": "21", "F11": "23", "F12": "24",
}

var plainKeys = map[string]string{
	"Enter": "\r", "Esc": "\x1b", "Tab": "\t", "Space": " ", "Backspace": "\x7f",
}

// modifiers are numbers whose sum, and 1, stands in what a terminal sends.
var modifiers = map[string]int{"Shift": 1, "Alt": 2, "Ctrl": 4}

// keyBytes returns what a terminal sends for one named key, such as "Up", "F1", "Ctrl+S" or "Shift+PgDn"; ok is false
// if key is no name but text. A name with a modifier that no terminal can send is an error: it is a slip of the test.
func keyBytes(key string) (sent string, ok bool, err error) {
	name, held := key, 0
	for {
		modifier, rest, found := strings.Cut(name, "+")
		if !found || modifiers[modifier] == 0 || rest == "" {
			break
		}
		name, held = rest, held|modifiers[modifier]
	}
	if sent, ok := specialKey(name, held); ok {
		return sent, true, nil
	}
	if held == 0 {
		return "", false, nil
	}
	if sent, ok := heldKey(name, held); ok {
		return sent, true, nil
	}
	return "", false, fmt.Errorf("no terminal sends the key %q", key)
}

// specialKey returns what a key sends that has a name and not a character.
func specialKey(name string, held int) (sent string, ok bool) {
	if letter, ok := arrows[name]; ok {
		if held == 0 {
			return "\x1b[" + letter, true
		}
		return fmt.Sprintf("\x1b[1;%d%s", 1+held, letter), true
	}
	if letter, ok := firstFunctionKeys[name]; ok {
		if held == 0 {
			return "\x1bO" + letter, true
		}
		return fmt.Sprintf("\x1b[1;%d%s", 1+held, letter), true
	}
	if number, ok := tildeKeys[name]; ok {
		if held == 0 {
			return "\x1b[" + number + "~", true
		}
		return fmt.Sprintf("\x1b[%s;%d~", number, 1+held), true
	}
	if name == "Tab" && held == modifiers["Shift"] {
		return "\x1b[Z", true
	}
	if char, ok := plainKeys[name]; ok && held == 0 {
		return char, true
	}
	return "", false
}

// heldKey returns what a character sends with Ctrl, Alt or both held. Shift is no use here: it gives another character.
func heldKey(name string, held int) (sent string, ok bool) {
	char, named := plainKeys[name]
	if !named {
		char = name
	}
	if len([]rune(char)) != 1 || held&modifiers["Shift"] != 0 {
		return "", false
	}
	if held&modifiers["Ctrl"] != 0 {
		if char, ok = controlCharacter(char); !ok {
			return "", false
		}
	}
	if held&modifiers["Alt"] != 0 {
		char = "\x1b" + char
	}
	return char, true
}

// controlCharacter returns what a terminal sends for Ctrl and a letter, a blank or one of @ [ \ ] ^ _.
func controlCharacter(char string) (string, bool) {
	b := strings.ToUpper(char)[0]
	switch {
	case char == " ":
		return "\x00", true
	case len(char) == 1 && b >= '@' && b <= '_':
		return string(rune(b - '@')), true
	}
	return "", false
}
