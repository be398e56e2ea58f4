package cli

import (
	"encoding/json"
	"fmt"
	"io"
	"math"
	"time"

	"github.com/spf13/cobra"

	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
)

func (p *program) checkCommand() *cobra.Command {
	var format string
	c := &cobra.Command{
		Use: "check SHEET...", Short: "Report what the rules find on sheets", Args: sheetsNamed(1, 1<<30),
		Long: "Check reports what the rules find. It says nothing and exits 0 when nothing is found;\n" +
			"exits 1 when a stop is left that nobody accepted, and 2 when a sheet can't be read.",
		RunE: func(_ *cobra.Command, paths []string) error {
			if format != "text" && format != "json" {
				return fmt.Errorf("--format is text or json, not %q", format)
			}
			return p.check(paths, format == "json")
		},
	}
	c.Flags().StringVar(&format, "format", "text", "text or json")
	return c
}

// check checks sheet by sheet. One that can't be read does not keep the others from
// being checked.
func (p *program) check(paths []string, asJSON bool) error {
	if _, _, err := p.studio(); err != nil {
		return err
	}
	all := []jsonSheet{}
	var unread error
	stops := false
	for _, path := range paths {
		s, _, rep, err := p.checked(path)
		if err != nil {
			if unread != nil {
				fmt.Fprintln(p.stderr, message(unread))
			}
			unread = err
			if asJSON {
				all = append(all, jsonSheet{File: path, Error: message(err), Findings: []jsonFinding{}})
			}
			continue
		}
		stops = stops || !rep.Clear()
		if asJSON {
			all = append(all, jsonOf(path, s, rep))
		} else {
			writeReport(p.lengths(append(s.Typed(), path)...), path, rep)
		}
	}
	if asJSON {
		enc := json.NewEncoder(p.stdout)
		enc.SetIndent("", "  ")
		if err := enc.Encode(jsonReport{Format: 1, Lengths: "mm", Sheets: all}); err != nil {
			return err
		}
	}
	switch {
	case unread != nil:
		return unread
	case stops:
		return errStops
	}
	return nil
}

// checked reads a sheet and checks it, by the studio's own limits where it has any.
func (p *program) checked(path string) (*sheet.Sheet, *slots.Table, *rule.Report, error) {
	s, _, err := load(path)
	if err != nil {
		return nil, nil, nil, err
	}
	st, _, err := p.studio()
	if err != nil {
		return nil, nil, nil, err
	}
	now, err := p.now()
	if err != nil {
		return nil, nil, nil, err
	}
	s = st.House(s).With(func(c *sheet.Sheet) { c.Today = now.Format(time.DateOnly) })
	t, err := slots.For(s, nil)
	if err != nil {
		return nil, nil, nil, fmt.Errorf("%s: %w", path, err)
	}
	return s, t, rule.Check(s, t), nil
}

// writeReport writes the findings of a sheet, a line each; nothing when there are none. Each
// begins with the path, if there is one.
func writeReport(w io.Writer, path string, rep *rule.Report) {
	lead := "  "
	if path != "" {
		lead = printable.Line(path) + ": "
	}
	for _, f := range rep.Findings {
		severity := f.Severity.String()
		if f.Accepted != nil {
			severity = "accepted"
		}
		fmt.Fprintf(w, "%s%-8s %-12s %s: %s", lead, severity, f.Rule, f.Where(), printable.Line(f.Message()))
		if f.Source != "" {
			fmt.Fprintf(w, " (%s)", f.Source)
		}
		if f.Accepted != nil {
			fmt.Fprintf(w, ", because: %s", printable.Line(f.Accepted.Reason))
		}
		fmt.Fprintln(w)
	}
	for _, a := range rep.Stale {
		fmt.Fprintf(w, "%s%-8s %-12s %s: was accepted, and is not found any more\n", lead, "gone", a.Rule, rule.Where(a.Concern))
	}
}

type jsonReport struct {
	Format  int         `json:"format"`
	Lengths string      `json:"lengths"`
	Sheets  []jsonSheet `json:"sheets"`
}

type jsonSheet struct {
	File     string        `json:"file"`
	Error    string        `json:"error,omitempty"` // why it could not be read
	Title    string        `json:"title"`
	Stops    int           `json:"stops"`
	Cautions int           `json:"cautions"`
	Notes    int           `json:"notes"`
	Accepted int           `json:"accepted"`
	Findings []jsonFinding `json:"findings"`
	Stale    []jsonPlace   `json:"stale,omitempty"`
}

type jsonPlace struct {
	Rule   string   `json:"rule"`
	Height *float64 `json:"height,omitempty"`
	Along  *float64 `json:"along,omitempty"`
	Slot   *int     `json:"slot,omitempty"`
	About  string   `json:"about,omitempty"` // on the sheet as a whole: a question, a shade
}

type jsonFinding struct {
	jsonPlace
	Severity string   `json:"severity"`
	Message  string   `json:"message"`
	Value    *float64 `json:"value,omitempty"`
	Limit    *float64 `json:"limit,omitempty"`
	Unit     string   `json:"unit,omitempty"`
	Source   string   `json:"source,omitempty"`
	Reading  string   `json:"reading,omitempty"` // of the map, that shows it
	Reason   string   `json:"accepted_because,omitempty"`
}

func placeOf(c sheet.Concern) jsonPlace {
	at := float64(c.Row.At)
	j := jsonPlace{Rule: c.Rule, About: c.About}
	switch {
	case c.On == sheet.OnSheet:
		return j
	case c.Row.Along:
		j.Along = &at
	default:
		j.Height = &at
	}
	if c.On == sheet.OnSlot {
		j.Slot = &c.Slot
	}
	return j
}

// rounded is a figure to a millionth. Processors that multiply and add in one step come to other last digits, and a program that compares two reports
// should not take those for a difference.
func rounded(figure float64) float64 { return math.Round(figure*1e6)/1e6 + 0 } // and no -0

func jsonOf(path string, s *sheet.Sheet, rep *rule.Report) jsonSheet {
	j := jsonSheet{File: path, Title: s.Title, Stops: rep.Stops, Cautions: rep.Cautions, Notes: rep.Notes,
		Accepted: rep.Accepted, Findings: []jsonFinding{}}
	for _, f := range rep.Findings {
		jf := jsonFinding{jsonPlace: placeOf(f.Concern), Severity: f.Severity.String(), Message: f.Message(), Unit: f.Unit, Source: f.Source}
		if f.Reading.Kind != rule.ByZone {
			jf.Reading = f.Reading.Name(s)
		}
		if f.Unit != "" {
			value, limit := rounded(f.Value), rounded(f.Limit)
			jf.Value, jf.Limit = &value, &limit
		}
		if f.Accepted != nil {
			jf.Reason = f.Accepted.Reason
		}
		j.Findings = append(j.Findings, jf)
	}
	for _, a := range rep.Stale {
		j.Stale = append(j.Stale, placeOf(a.Concern))
	}
	return j
}
