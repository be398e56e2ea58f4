package tui

import (
	"fmt"
	"os"
	"strconv"
	"strings"
	"testing"

	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
)

// readFixtures splits a file into what stands before its first case and the cases.
func readFixtures(t *testing.T, path string) (head string, cases []fixture) {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	parts := strings.Split("\n"+string(data), "\ncase ")
	head = strings.TrimPrefix(parts[0], "\n")
	for _, part := range parts[1:] {
		given, want, ok := strings.Cut(part, "\nwant\n")
		if !ok {
			given, want = strings.TrimSuffix(strings.TrimSpace(part), "\nwant"), ""
		}
		lines := strings.Split(given, "\n")
		cases = append(cases, fixture{name: lines[0], given: lines[1:], want: strings.TrimSpace(want)})
	}
	return head, cases
}

func writeFixtures(t *testing.T, path, head string, cases []fixture) {
	t.Helper()
	text := strings.TrimRight(head, "\n") + "\n"
	for _, c := range cases {
		text += fmt.Sprintf("\ncase %s\n%s\nwant\n%s\n", c.name, strings.Join(c.given, "\n"), c.want)
	}
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

// parseRow reads "60 a.a.(a)" or "along -16 a(a)a offset", as the state writes rows.
func parseRow(t *testing.T, text string) sheet.Row {
	t.Helper()
	f := strings.Fields(text)
	at := sheet.Place{}
	if f[0] == "along" {
		at.Along, f = true, f[1:]
	}
	mm, err := strconv.ParseFloat(f[0], 64)
	if err != nil {
		t.Fatal(err)
	}
	at.At = scalp.MM(mm)
	r, err := sheet.ParseBonds(at, f[1])
	if err != nil {
		t.Fatal(err)
	}
	for _, word := range f[2:] {
		if word == "offset" {
			r.Offset = true
		} else {
			r.Look = sheet.Look(word)
		}
	}
	return r
}

// parseAt reads "60 -3" or "along 16 2".
func parseAt(t *testing.T, text string) (at sheet.Place, slot int) {
	t.Helper()
	rest, isAlong := strings.CutPrefix(text, "along ")
	var mm float64
	if _, err := fmt.Sscanf(rest, "%g %d", &mm, &slot); err != nil {
		t.Fatalf("at %q: %v", text, err)
	}
	return sheet.Place{Along: isAlong, At: scalp.MM(mm)}, slot
}

// setField changes the plain sheet before it is opened, by the words a fixture may use.
func setField(t *testing.T, s *sheet.Sheet, text string) *sheet.Sheet {
	t.Helper()
	name, value, _ := strings.Cut(text, " ")
	switch name {
	case "no-shades":
		return s.With(func(c *sheet.Sheet) { c.Shades = nil })
	case "wish":
		return s.With(func(c *sheet.Sheet) { c.Wish = splitWords[sheet.Look](value) })
	case "worn":
		return s.With(func(c *sheet.Sheet) { c.Worn = splitWords[sheet.Wear](value) })
	case "partings":
		return s.With(func(c *sheet.Sheet) {
			c.Partings = nil
			for _, at := range splitWords[string](value) {
				mm, err := strconv.ParseFloat(at, 64)
				if err != nil {
					t.Fatal(err)
				}
				c.Partings = append(c.Partings, scalp.Parting{Right: scalp.MM(mm), Length: 120})
			}
		})
	case "accept":
		var a sheet.Accepted
		f := strings.Fields(value)
		slot, err := strconv.Atoi(f[2])
		if err != nil {
			t.Fatal(err)
		}
		mm, err := strconv.ParseFloat(f[1], 64)
		if err != nil {
			t.Fatal(err)
		}
		a.Concern = sheet.Concern{Rule: f[0], Row: height(scalp.MM(mm)), On: sheet.OnSlot, Slot: slot}
		a.Reason = "as agreed"
		return s.WithAccepted(a)
	}
	t.Fatalf("nothing is called %q", name)
	return nil
}

func splitWords[T ~string](text string) []T {
	var list []T
	for _, w := range strings.Split(text, ",") {
		list = append(list, T(strings.TrimSpace(w)))
	}
	return list
}

// splitKeys reads names of keys, with text to type in quotes.
func splitKeys(t *testing.T, text string) []string {
	t.Helper()
	var keys []string
	for text = strings.TrimSpace(text); text != ""; text = strings.TrimSpace(text) {
		if text[0] == '"' && len(text) > 1 {
			typed, rest, ok := strings.Cut(text[1:], `"`)
			if !ok {
				t.Fatalf("no end to %s", text)
			}
			for _, r := range typed {
				if r == ' ' {
					keys = append(keys, "space")
				} else {
					keys = append(keys, string(r))
				}
			}
			text = rest
			continue
		}
		key, rest, _ := strings.Cut(text, " ")
		keys, text = append(keys, key), rest
		if name, times, ok := strings.Cut(key, "*"); ok && name != "" {
			n, err := strconv.Atoi(times)
			if err != nil {
				t.Fatal(err)
			}
			keys = keys[:len(keys)-1]
			for range n {
				keys = append(keys, name)
			}
		}
	}
	return keys
}
