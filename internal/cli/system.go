package cli

import (
	"errors"
	"fmt"
	"runtime"

	"github.com/spf13/cobra"

	"example.org/underveil/internal/printable"
)

// errWrong is how system ends when something is wrong.
var errWrong = errors.New("something is wrong")

func (p *program) systemCommand() *cobra.Command {
	return &cobra.Command{
		Use: "system", Short: "Tell what the program has found out about terminal and folders, and what is wrong", Args: cobra.NoArgs,
		Long: "System tells how the editor will look on this terminal and why, where the program keeps what, and what is wrong there.\n" +
			"It exits 0 where nothing is wrong, 1 where something is, and 2 where the settings can't be read. What it prints holds\n" +
			"no name but in the paths of its own folders, and nothing of a sheet: it can be sent to somebody who is to help.",
		RunE: func(*cobra.Command, []string) error {
			p.setTold = true
			return p.system()
		},
	}
}

// survey is what was found out, told as it goes, and what is wrong with it.
type survey struct {
	*program
	wrong []wrong
}

// wrong is something that is wrong and what to do about it.
type wrong struct{ what, remedy string }

func (p *program) system() error {
	s := &survey{program: p}
	fmt.Fprintf(p.stdout, "Underveil %s, %s, %s %s\n", version(), runtime.Version(), runtime.GOOS, runtime.GOARCH)
	look, err := p.look()
	if err != nil {
		return err
	}
	s.head("terminal")
	s.terminal(look)
	s.head("folders and files")
	s.folders()
	set := p.settings()
	s.head("settings")
	if set.err == nil {
		rows, err := p.inForce()
		if err != nil {
			return err
		}
		for _, r := range rows {
			s.line(r.name, fmt.Sprintf("%-21s %s", r.value, r.from))
		}
	} else {
		s.line("settings.toml", "can't be read, so none hold")
	}
	return s.verdict(set.err)
}

// verdict tells what is wrong; unread is why the settings can't be read, or nil.
func (s *survey) verdict(unread error) error {
	if unread == nil && len(s.wrong) == 0 {
		fmt.Fprintln(s.stdout, "\nnothing is wrong")
		return nil
	}
	s.head("wrong")
	for _, w := range s.wrong {
		fmt.Fprintf(s.stdout, "  %s\n    %s\n", printable.Line(w.what), printable.Line(w.remedy))
	}
	if unread != nil {
		fmt.Fprintln(s.stdout, "  the settings can't be read\n    mend them, as it says here, or take the file away")
		return unread
	}
	return errWrong
}

func (s *survey) head(text string) { fmt.Fprintf(s.stdout, "\n%s\n", text) }

func (s *survey) line(name, text string) {
	fmt.Fprintf(s.stdout, "  %-16s%s\n", name, printable.Line(text))
}

// amiss notes that something is wrong.
func (s *survey) amiss(remedy, format string, args ...any) {
	s.wrong = append(s.wrong, wrong{fmt.Sprintf(format, args...), remedy})
}
