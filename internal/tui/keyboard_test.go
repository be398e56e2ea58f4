package tui

import (
	"bytes"
	"math/rand/v2"
	"os"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
)

// cutInPieces cuts a stream that is read in pieces of any length.
func cutInPieces(r *rand.Rand, stream []byte) []byte {
	var p pastes
	var out []byte
	for len(stream) > 0 {
		n := min(1+r.IntN(300), len(stream))
		piece := bytes.Clone(stream[:n])
		out = append(out, piece[:p.cut(piece)]...)
		stream = stream[n:]
	}
	return out
}

// What is typed goes through as it is, and of a paste as much as a field takes, with its two marks: however reading parts it.
func TestPastesAreCut(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 91))
	for range 60 {
		var stream, want []byte
		for range 1 + r.IntN(6) {
			typed := pick(r, "", "a", "\x1b[A", "\x1b", "\x1b[20", "\x1b[200", "\x1b[201~", "\x1b[<0;1;1M", "q\r")
			if strings.HasPrefix(pasteBegins, typed) {
				typed += "x" // or it might make a mark with what comes after it
			}
			stream, want = append(stream, typed...), append(want, typed...)
			n := pick(r, 0, 1, 7, 300, longestPaste-7, longestPaste-6, longestPaste-5, longestPaste-1, longestPaste, longestPaste+1, longestPaste+5, longestPaste+6,
				longestPaste+7, 3*longestPaste, r.IntN(40000))
			piece := pick(r, "x", "山田", "\x1b", "\x1b[2", "\x1b[201", pasteBegins, "ab\x1b[")
			paste := strings.Repeat(piece, 1+n/len(piece))[:n]
			for k := 1; k < len(pasteEnds) && strings.HasSuffix(paste, "\x1b"); k++ {
				paste = paste[:len(paste)-1] + "y" // or its end might begin in it
			}
			stream = append(stream, pasteBegins+paste+pasteEnds...)
			want = append(want, pasteBegins+paste[:min(n, longestPaste)]...)
			tail := want[len(want)-min(len(want), len(pasteEnds)):]
			// Where the paste is cut within what looks like its end, the rest of that follows.
			begun := 0
			for k := 1; n >= longestPaste && k < len(pasteEnds); k++ {
				if bytes.HasSuffix(tail, []byte(pasteEnds[:k])) {
					begun = k
				}
			}
			want = append(want, pasteEnds[begun:]...)
		}
		if got := cutInPieces(r, stream); !bytes.Equal(got, want) {
			at := 0
			for at < min(len(got), len(want)) && got[at] == want[at] {
				at++
			}
			t.Fatalf("%d bytes came through, want %d; they differ at %d: %.40q, want %.40q", len(got), len(want), at, got[at:], want[at:])
		}
	}
}

// pasted is what a program of the terminal library makes of some input: the texts that were pasted, and the keys.
type pasted struct {
	texts []string
	keys  []string
}

func (p *pasted) Init() tea.Cmd { return nil }
func (p *pasted) View() string  { return "" }

func (p *pasted) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	key, ok := msg.(tea.KeyMsg)
	switch {
	case !ok:
	case key.Paste:
		p.texts = append(p.texts, string(key.Runes))
	case key.String() == "q":
		return p, tea.Quit
	default:
		p.keys = append(p.keys, key.String())
	}
	return p, nil
}

// Ten megabytes that are pasted come as what a field has room for, and the next key after them as a key.
func TestPasteOfTenMegabytes(t *testing.T) {
	size := 10 << 20
	if testing.Short() {
		size = 1 << 20
	}
	in, to, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	defer in.Close()
	go func() {
		defer to.Close()
		to.WriteString(pasteBegins + strings.Repeat("x", size) + pasteEnds)
		time.Sleep(50 * time.Millisecond) // or the key might be read together with the end of the paste
		to.WriteString("k")
		time.Sleep(50 * time.Millisecond)
		to.WriteString("q")
	}()
	got := &pasted{}
	p := tea.NewProgram(got, tea.WithInput(&keyboard{File: in}), tea.WithOutput(&bytes.Buffer{}), tea.WithoutSignals())
	if _, err := p.Run(); err != nil {
		t.Fatal(err)
	}
	if len(got.texts) != 1 || got.texts[0] != strings.Repeat("x", longestPaste) {
		t.Errorf("%d pastes came", len(got.texts))
	}
	if len(got.keys) != 1 || got.keys[0] != "k" {
		t.Errorf("the keys %q came, want k", got.keys)
	}
}
