package cli

import (
	"errors"

	"github.com/mattn/go-isatty"

	"example.org/underveil/internal/tui"
)

// plain is the editor as a dialogue in lines, which needs no terminal.
func (p *program) plain(args []string) error { return p.edit(args) }

// open opens the editor on what there is to begin with, or nil: as a screen, or as a dialogue.
func (p *program) open(opts tui.Options, first *tui.Opened) error {
	if p.plainly {
		err := tui.Plain(p.in, p.stdout, opts, first)
		if !errors.Is(err, tui.ErrRefused) || !isatty.IsTerminal(p.in.Fd()) {
			return err
		}
		if errors.Is(err, tui.ErrNotSaved) {
			return tui.ErrNotSaved
		}
		return nil // whoever typed it heard why; a script is not there to hear
	}
	return tui.Run(p.in, p.out, opts, first)
}
