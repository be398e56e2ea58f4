package sheetfile

import "example.org/underveil/internal/lesson"

// LoadScript reads the demonstration in a file. Its error is as that of Load.
func LoadScript(path string) (*lesson.Script, []Notice, error) {
	data, bad := read(&scriptFile, path)
	if bad != nil {
		return nil, nil, Errors{bad}
	}
	return DecodeScript(path, data)
}

// DecodeScript reads a demonstration. name is the name of the file, for messages. Each of its sheets is one that Decode takes. The
// error is an Errors with all that is wrong, up to the first step that gives no sheet.
func DecodeScript(name string, data []byte) (*lesson.Script, []Notice, error) {
	t, bad := openLesson(&scriptFile, name, data)
	if bad != nil {
		return nil, nil, Errors{bad}
	}
	s := &lesson.Script{}
	t.script(s)
	if err := t.finish(); err != nil {
		return nil, nil, err
	}
	return s, t.notices, nil
}

func (t table) script(s *lesson.Script) {
	if !t.isReadable("demonstration") {
		return
	}
	t.checkKeys()
	t.needTop("demonstration", "the demonstration has no title")
	t.text("demonstration", &s.Title)
	t.notes("about", &s.About)
	t.notes("say", &s.Say)
	if s.Start = t.sheetIn("start"); s.Start != nil {
		s.Steps = t.steps(s.Start)
	}
}

// scriptRemark is the first line of every demonstration that is written.
const scriptRemark = "# Underveil demonstration."

// EncodeScript writes a demonstration in the one shape that it has.
func EncodeScript(s *lesson.Script) []byte {
	w := &writer{}
	w.WriteString(scriptRemark + "\n")
	w.number("format", formatNow)
	w.text("demonstration", s.Title)
	w.textIf("about", s.About)
	w.textIf("say", s.Say)
	w.tableOf(&scriptFile, "start")
	w.nest("sheet", string(Encode(s.Start)))
	w.steps(&scriptFile, s.Start, s.Steps)
	return w.Bytes()
}
