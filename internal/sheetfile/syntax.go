package sheetfile

import (
	"errors"
	"fmt"
	"strings"

	"github.com/BurntSushi/toml"
)

// parse reads a TOML text that the locator has been through.
func (d *document) parse() (values map[string]any, err *trouble) {
	defer func() {
		// The TOML reader panics where it thinks that it cannot come; a sheet must not end the program.
		if r := recover(); r != nil {
			values, err = nil, &trouble{span{}, "this text cannot be read", "is it " + theKind(d.called) + "?"}
		}
	}()
	_, failed := toml.Decode(d.text, &values)
	if failed == nil {
		return values, nil
	}
	var at toml.ParseError
	if !errors.As(failed, &at) {
		return nil, &trouble{span{}, "this text cannot be read: " + failed.Error(), "is it " + theKind(d.called) + "?"}
	}
	problem, remedy := d.explain(at.Message)
	return nil, &trouble{span{at.Position.Start, at.Position.Start + at.Position.Len}, problem, remedy}
}

// explain puts what the TOML reader finds after the locator into plain words.
func (s *schema) explain(message string) (problem, remedy string) {
	has := func(words ...string) bool {
		for _, w := range words {
			if strings.Contains(message, w) {
				return true
			}
		}
		return false
	}
	switch {
	case has("already", "is not a table"):
		return "this is given already, above", "keep one of the two"
	case has("control character"):
		return "there is a control character here, which can harm a terminal", "delete it"
	case has("escape", `after '\`, "Escaped character"):
		return `there is a backslash here, and what follows it stands for no character`,
			`write \\ for a backslash, or put the text in single quotation marks`
	case has("datetime"):
		return "this is not a date", "write dates like 2026-03-02"
	case has("nvalid integer", "nvalid float", "out of range", "number", "leading zero", "expected a digit", "floats must",
		"item to end", "expected a comma"):
		return notNumber, howNumber
	}
	return fmt.Sprintf("this is not TOML: %s", message), "see " + s.see + " for how it is written"
}
