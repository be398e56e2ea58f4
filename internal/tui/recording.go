package tui

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/underveil/internal/lesson"
	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/sheet"
)

// recording is a session being written down as a script, step by step; what is taken back and done again is a step as well.
type recording struct {
	doc   *document
	start *sheet.Sheet
	steps []lesson.Step

	last   *sheet.Sheet // as it was looked at last
	done   int          // how many steps its history had then
	again  *sheet.Sheet // where doing a step again would have led then, or nil
	going  bool         // the last step recorded is the last of the history, so that a gesture may go on in it
	isFull bool
}

// mostRecorded is how many steps a recording may have: as many as a file.
const mostRecorded = 2000

// recordedMsg brings what came of writing a recording.
type recordedMsg struct {
	of    *recording
	path  string
	steps int  // recorded
	kept  int  // of those in the file
	taken bool // there was a file already, and nothing was written
	title string
	err   error
	then  func(*Model) tea.Cmd
}

// switchRecording begins to record, or ends that. While something is tried in a demonstration it goes back to the step.
func (m *Model) switchRecording() tea.Cmd {
	switch r := m.rec; {
	case m.demo != nil:
		return m.backToStep()
	case r == nil:
		m.rec = &recording{doc: m.doc, start: m.doc.sheet()}
		m.rec.look()
		m.tell("recording: each step from here on, and each that is taken back; " + m.keyOf("record") + " ends it")
	case len(r.steps) == 0:
		m.rec = nil
		m.tell("nothing was done, so nothing is recorded")
	default:
		m.push(newRecordingForm(m, nil))
	}
	return nil
}

// record writes down what a key has done. It runs after every key.
func (m *Model) record() {
	r := m.rec
	if r == nil || m.doc != r.doc || m.doc.sheet() == r.last {
		return
	}
	h := r.doc.history
	done := len(h.Steps())
	step := lesson.Step{Did: h.CanUndo(), Sheet: m.doc.sheet(), Look: &sheet.Spot{At: m.doc.cursor.At, Slot: m.doc.cursor.Slot}}
	same := false
	switch {
	case done < r.done-1:
		step.Did = fmt.Sprintf("taken back: %d steps", r.done-done)
	case done < r.done:
		step.Did = "taken back: " + h.CanRedo()
	case m.doc.sheet() == r.again:
		step.Did = "done again: " + step.Did
	case done == r.done && r.going: // holding a key down, or a drag
		same = true
	}
	r.going = done >= r.done
	step.Did = printable.Line(step.Did)
	r.look()
	switch n := len(r.steps); {
	case same && n > 0:
		r.steps[n-1] = step
	case n < mostRecorded:
		r.steps = append(r.steps, step)
	default:
		if !r.isFull {
			m.warn(fmt.Sprintf("the recording has %d steps and is full; %s saves it", n, m.keyOf("record")))
		}
		r.isFull = true
	}
}

// look notes how the sheet and its history are.
func (r *recording) look() {
	h := r.doc.history
	r.last, r.done, r.again = h.Sheet(), len(h.Steps()), nil
	if h.CanRedo() != "" {
		r.again = h.After(r.done + 1)
	}
}

// mark stands in the header while a session is recorded.
func (r *recording) mark() string {
	if len(r.steps) == 0 {
		return "recording"
	}
	return fmt.Sprintf("recording %d", len(r.steps))
}

// unlessRecording does something that leaves the sheet, after asking when a recording of it is not saved.
func (m *Model) unlessRecording(do func(*Model) tea.Cmd) tea.Cmd {
	if m.rec == nil || len(m.rec.steps) == 0 {
		return do(m)
	}
	m.push(&question{"still recording", "What was done is recorded, " + printable.Count(len(m.rec.steps), "step") + ", and that is not saved.", []answer{
		{"s", "save the recording first", func(m *Model) tea.Cmd { m.push(newRecordingForm(m, do)); return nil }},
		{"l", "leave without it", func(m *Model) tea.Cmd { m.rec = nil; return do(m) }},
	}})
	return nil
}

// newRecordingForm asks what the recording is to be called and where it goes.
func newRecordingForm(m *Model, then func(*Model) tea.Cmd) *form {
	title := m.doc.sheet().Title
	name := m.triedRecording
	if name == "" {
		name = strings.TrimSuffix(fileName(title), ".toml") + "-demonstration.toml"
	}
	if title == "" {
		title = "a recorded session"
	}
	note := fmt.Sprintf("%s, to be trimmed and given captions in a text editor: say = \"what to look at\". Esc goes on recording.",
		printable.Count(len(m.rec.steps), "step"))
	return &form{title: "save the recording", note: note, fields: []*field{
		textField("file", name, "a name here, or a whole path; left empty, the recording is dropped"),
		textField("title", title, "what is shown while it is gone through"),
	}, take: func(m *Model, fm *form) (tea.Cmd, error) {
		path, title := fm.find("file").text(), fm.find("title").text()
		if path == "" {
			m.askToDrop(then)
			return nil, nil
		}
		if path = asFile(path, name); samePath(path, m.doc.path) {
			return nil, &fieldError{"file", "another name than that of the sheet"}
		}
		return m.saveRecording(m.rec, path, title, false, then), nil
	}}
}

func samePath(a, b string) bool {
	if b == "" {
		return false
	}
	fullA, errA := filepath.Abs(a)
	fullB, errB := filepath.Abs(b)
	return errA == nil && errB == nil && fullA == fullB
}

// askToDrop asks before a recording is lost.
func (m *Model) askToDrop(then func(*Model) tea.Cmd) {
	m.push(&question{"drop the recording", printable.Count(len(m.rec.steps), "step") + " would not be kept. The sheet stays as it is.", []answer{
		{"d", "drop it", func(m *Model) tea.Cmd {
			m.rec = nil
			m.tell("the recording is dropped")
			if then != nil {
				return then(m)
			}
			return nil
		}},
		{"o", "give it a name", func(m *Model) tea.Cmd { m.push(newRecordingForm(m, then)); return nil }},
	}})
}

// saveRecording writes a recording to a file as a command; over another file only when told to.
func (m *Model) saveRecording(r *recording, path, title string, over bool, then func(*Model) tea.Cmd) tea.Cmd {
	files, script := m.opts.Files, &lesson.Script{Title: title, Start: r.start, Steps: slices.Clone(r.steps)}
	return func() tea.Msg {
		msg := recordedMsg{of: r, path: path, title: title, steps: len(script.Steps), then: then}
		if msg.taken = !over && files.Exists(path); !msg.taken {
			msg.kept, msg.err = files.SaveScript(path, script)
		}
		return msg
	}
}

func (m *Model) wasRecorded(msg recordedMsg) tea.Cmd {
	switch {
	case m.rec != msg.of: // the sheet was left by now
		if msg.err != nil || msg.taken {
			m.warn("the recording is not saved to " + msg.path)
		}
		return nil
	case msg.taken:
		m.push(&question{"that file is there already", msg.path + " would be replaced.", []answer{
			{"r", "replace it", func(m *Model) tea.Cmd { return m.saveRecording(msg.of, msg.path, msg.title, true, msg.then) }},
			{"o", "another name", func(m *Model) tea.Cmd { m.push(newRecordingForm(m, msg.then)); return nil }},
		}})
		return nil
	case msg.err != nil:
		m.triedRecording = msg.path
		m.push(newTrouble("the recording is not saved", msg.err.Error()))
		return nil
	}
	m.triedRecording = ""
	if len(msg.of.steps) > msg.steps { // more was done while it was written
		m.warn("recorded to " + msg.path + " without the last steps; the recording goes on, and " + m.keyOf("record") + " saves it again")
		return nil
	}
	m.rec = nil
	if msg.kept < msg.steps {
		m.warn(fmt.Sprintf("recorded to %s; a file holds no more, so the first %d of %d steps are one there", msg.path, msg.steps-msg.kept+1, msg.steps))
	} else {
		m.tell("recorded to " + msg.path + ", " + printable.Count(msg.steps, "step") + "; " + m.keyOf("open") + " opens it")
	}
	if msg.then != nil {
		return msg.then(m)
	}
	return nil
}
