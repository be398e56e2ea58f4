package cli

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

	"example.org/underveil/internal/lesson"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/sheetfile"
)

// What mark says of an attempt at an exercise that comes with the program is what its judge says, whom the editor asks too: that
// the answer passes and the start does not.
func TestMarkSaysWhatTheJudgeSays(t *testing.T) {
	list, err := exercises()
	if err != nil {
		t.Fatal(err)
	}
	for i, of := range list {
		if testing.Short() && i%5 != 0 {
			continue
		}
		x, err := (&program{}).exercise(of.Name)
		if err != nil {
			t.Fatal(err)
		}
		j, folder := &lesson.Judge{Exercise: x}, t.TempDir()
		attempts := map[string]*lesson.Attempt{"answer.toml": j.Answered(), "start.toml": {Exercise: x.ID, Sheet: x.Start}}
		for name, a := range attempts {
			if err := os.WriteFile(filepath.Join(folder, name), sheetfile.EncodeAttempt(a, nil), 0o600); err != nil {
				t.Fatal(err)
			}
		}
		var out bytes.Buffer
		if err := (&program{stdout: &out, stderr: &out}).mark(of.Name, folder, "json"); err != nil {
			t.Fatal(err)
		}
		var got struct {
			HandIns []struct {
				File, State, Next string
				Met, Of           int
				Share             float64
				Points            []struct {
					What, Why string
					Met       bool
				}
			} `json:"hand_ins"`
		}
		if err := json.Unmarshal(out.Bytes(), &got); err != nil || len(got.HandIns) != len(attempts) {
			t.Fatalf("%v\n%s", err, out.Bytes())
		}
		for _, h := range got.HandIns {
			want, err := j.Mark(attempts[h.File])
			if err != nil {
				t.Fatal(err)
			}
			if h.Met != want.Met || h.Of != want.Of || h.Share != want.Share() || (h.State == "passed") != want.Passed || want.Passed != (h.File == "answer.toml") ||
				h.Next != want.Next || len(h.Points) != len(want.Points) {
				t.Errorf("%s, %s: %+v\nwant %+v", of.Name, h.File, h, want)
				continue
			}
			for i, p := range want.Points {
				if h.Points[i].What != p.What || h.Points[i].Why != p.Why || h.Points[i].Met != p.Met {
					t.Errorf("%s, %s: %+v, want %+v", of.Name, h.File, h.Points[i], p)
				}
			}
		}
	}
}

// The editor holds to the limits of a college in all that it opens, and does not open with a wrong file of them.
func TestLimitsReachTheEditor(t *testing.T) {
	path := filepath.Join(t.TempDir(), "college.toml")
	write(t, path, "format = 1\nlimits_of = \"Ashgrove College\"\n[limits]\nnape = 33\n")
	opts, err := (&program{out: os.Stdout, limitsFile: path}).editorOptions()
	if err != nil {
		t.Fatal(err)
	}
	if v, source := opts.Studio.House(&sheet.Sheet{}).Limit(sheet.LimitNape); v != 33 || source != "set by Ashgrove College" {
		t.Errorf("nape %g, %s", v, source)
	}
	if opts.Lessons.Limits[sheet.LimitNape] != 33 || len(opts.Lessons.Limits) != 1 {
		t.Errorf("practice is by %v", opts.Lessons.Limits)
	}
	if opts, err := (&program{out: os.Stdout}).editorOptions(); err != nil || opts.Lessons.Limits != nil || opts.Studio.LimitsOf != "" {
		t.Errorf("without a college: %v, %v", opts.Lessons.Limits, err)
	}
	write(t, path, "format = 1\n")
	if _, err := (&program{out: os.Stdout, limitsFile: path}).editorOptions(); err == nil {
		t.Error("a wrong file of limits is taken")
	}
}
