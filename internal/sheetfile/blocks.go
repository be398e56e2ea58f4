package sheetfile

import (
	"slices"
	"strings"
)

// A sheet that comes after another in a lesson is written as what is different: keys at the top, tables that there is one of,
// rows by their place, and other lists whole. What is different is found in the text of both, as Encode writes it: the same is the
// same bytes. How changes are read is in draft.go.

// block is a key at the top of a sheet, or a table: its header and what follows up to the next.
type block struct {
	table bool
	text  string // without the line break at its end
}

// blocks are the blocks of a sheet, by the key or the name of the table.
type blocks map[string][]block

// withoutKey is the key of a change that lists what is taken away.
const withoutKey = "without"

// blocksOf takes a text apart that Encode wrote. There a key at the top is one line, and of a table only the header begins with
// a bracket.
func blocksOf(text []byte) blocks {
	all := blocks{}
	_, rest, _ := strings.Cut(string(text), "\n") // the first line is a remark
	for rest != "" {
		here := rest
		name, table := strings.CutPrefix(here, "[")
		end := strings.IndexByte(here, '\n') + 1
		if table {
			name, _, _ = strings.Cut(strings.TrimPrefix(name, "["), "]")
			if next := strings.Index(here, "\n["); next >= 0 {
				end = next + 1
			} else {
				end = len(here)
			}
		} else {
			name, _, _ = strings.Cut(name, " = ")
		}
		rest = here[end:]
		if text := strings.TrimRight(here[:end], "\n"); text != "" {
			all[name] = append(all[name], block{table, text})
		}
	}
	return all
}

// place is the line that says where a row lies, the same for rows at the same place.
func (b block) place() string {
	_, rest, _ := strings.Cut(b.text, "\n")
	place, _, _ := strings.Cut(rest, "\n")
	return place
}

// changesBetween is what has to be written for a sheet to become another one.
func changesBetween(old, now blocks) string {
	var top, tables strings.Builder
	var without []string
	for _, name := range headSheet.keysIn[""] {
		had, has := old[name], now[name]
		switch {
		case slices.Equal(had, has):
		case name == "row":
			for _, r := range changedRows(had, has) {
				tables.WriteString("\n" + r + "\n")
			}
		case len(has) == 0:
			without = append(without, quote(name))
		case has[0].table:
			for _, b := range has {
				tables.WriteString("\n" + b.text + "\n")
			}
		default:
			top.WriteString(has[0].text + "\n")
		}
	}
	if len(without) > 0 {
		top.WriteString(withoutKey + " = [" + strings.Join(without, ", ") + "]\n")
	}
	return strings.TrimPrefix(top.String()+tables.String(), "\n")
}

// differIn reports whether two sheets differ in any of some keys and tables.
func differIn(a, b blocks, names ...string) bool {
	return slices.ContainsFunc(names, func(name string) bool { return !slices.Equal(a[name], b[name]) })
}

// changedRows are the rows that are new or other, and then those that are gone, without bonds.
func changedRows(old, now []block) []string {
	var changed []string
	had, has := map[string]block{}, map[string]bool{}
	for _, r := range old {
		had[r.place()] = r
	}
	for _, r := range now {
		has[r.place()] = true
		if had[r.place()] != r {
			changed = append(changed, r.text)
		}
	}
	for _, r := range old {
		if !has[r.place()] {
			changed = append(changed, headSheet.heading("row")+"\n"+r.place()+"\nbonds = \"\"")
		}
	}
	return changed
}
