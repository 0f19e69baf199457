package gbxml

import (
	"context"
	"encoding/xml"
	"errors"
	"io"
	"strings"

	"scopewright/store/intake/building"
)

// scanner walks the elements of a file and keeps count of depth, line and place.
type scanner struct {
	ctx    context.Context
	src    *source
	dec    *xml.Decoder
	space  string // namespace of the root: others' elements are skipped
	open   []string
	tokens int
}

func newScanner(ctx context.Context, src *source) *scanner {
	s := &scanner{ctx: ctx, src: src, dec: xml.NewDecoder(src)}
	s.dec.CharsetReader = func(_ string, in io.Reader) (io.Reader, error) { return in, nil } // UTF-8 by now
	return s
}

// element is a start tag.
type element struct {
	xml.StartElement
	line int
}

// attr gives an attribute without namespace, "" where absent.
func (e element) attr(name string) string {
	for _, a := range e.Attr {
		if a.Name.Space == "" && a.Name.Local == name {
			return strings.TrimSpace(a.Value)
		}
	}
	return ""
}

func (s *scanner) line() int {
	line, _ := s.dec.InputPos()
	return line
}

// next gives the next token. It refuses what no building model needs.
func (s *scanner) next() (xml.Token, error) {
	if s.tokens++; s.tokens%1024 == 0 && s.ctx.Err() != nil {
		return nil, s.ctx.Err()
	}
	s.src.token = 0
	tok, err := s.dec.Token()
	if err != nil {
		return nil, s.failure(err)
	}
	switch t := tok.(type) {
	case xml.Directive:
		word, _, _ := strings.Cut(strings.TrimSpace(string(t)), " ")
		return nil, building.Refuse("This file declares a %s (line %d). Building models need none; export it again without.", firstWord(word), s.line())
	case xml.StartElement:
		if len(s.open) >= s.src.limits.Depth {
			return nil, building.Refuse("Elements are nested more than %d deep (line %s): no building model is.", s.src.limits.Depth, building.Count(s.line()))
		}
		s.open = append(s.open, t.Name.Local)
	case xml.EndElement:
		s.open = s.open[:len(s.open)-1]
	}
	return tok, nil
}

func firstWord(text string) string {
	text, _ = building.CleanText(text)
	if len(text) > 20 {
		text = text[:20]
	}
	return strings.ToUpper(text)
}

// failure turns the decoder's error into a sentence.
func (s *scanner) failure(err error) error {
	var syntax *xml.SyntaxError
	line := building.Count(s.line())
	switch {
	case s.ctx.Err() != nil:
		return s.ctx.Err()
	case err == io.EOF && len(s.open) == 0:
		return io.EOF
	case errors.As(err, &syntax) && strings.Contains(syntax.Msg, "unexpected EOF"), errors.Is(err, io.ErrUnexpectedEOF), err == io.EOF:
		return building.Refuse("The file ends inside a %s (line %s): it is incomplete.", s.place(), line)
	case errors.As(err, &syntax) && strings.Contains(syntax.Msg, "invalid character entity"):
		return building.Refuse("Line %s uses an entity that XML does not define (%s). Export the file again without.", line, entityOf(syntax.Msg))
	case errors.As(err, &syntax):
		msg, _ := building.CleanText(syntax.Msg)
		return building.Refuse("Line %s is not well-formed XML: %s. Export the file again.", line, msg)
	}
	if strings.HasPrefix(err.Error(), "A single tag") {
		return building.Refuse("%s (line %s).", err, line)
	}
	return unreadable(err)
}

func entityOf(msg string) string {
	_, name, found := strings.Cut(msg, "entity ")
	if !found {
		return "unknown"
	}
	clean, _ := building.CleanText(name)
	return strings.TrimSuffix(clean, " (no semicolon)")
}

// place names the element that a person would look for: the innermost that has
// a name of its own in a building.
func (s *scanner) place() string {
	for i := len(s.open) - 1; i >= 0; i-- {
		switch s.open[i] {
		case "Surface", "Space", "BuildingStorey", "Construction", "Layer", "Material", "Zone", "Schedule", "WindowType":
			return s.open[i]
		}
	}
	if len(s.open) == 0 {
		return "file without content"
	}
	return s.open[len(s.open)-1]
}

// root gives the first element.
func (s *scanner) root() (element, error) {
	for {
		tok, err := s.next()
		if err == io.EOF {
			return element{}, building.Refuse("%s", building.EmptyFile.Sentence(building.GBXMLFile))
		}
		if err != nil {
			return element{}, err
		}
		start, ok := tok.(xml.StartElement)
		if !ok {
			continue
		}
		if !strings.EqualFold(start.Name.Local, "gbXML") {
			name, _ := building.CleanText(start.Name.Local)
			return element{}, building.Refuse("The file's root element is %q, not gbXML: this is another kind of XML file.", name)
		}
		s.space = start.Name.Space
		return element{start, s.line()}, nil
	}
}

// rest reads past the root's end: the decoder would take a second root.
func (s *scanner) rest() (stray bool, err error) {
	for {
		tok, err := s.next()
		if err == io.EOF {
			return stray, nil
		}
		if err != nil {
			return stray, err
		}
		switch t := tok.(type) {
		case xml.StartElement:
			return stray, building.Refuse("A second building model starts at line %s: two files were joined. Import them one by one.", building.Count(s.line()))
		case xml.CharData:
			stray = stray || strings.TrimSpace(string(t)) != ""
		}
	}
}

// each calls visit for every child of the element that was just opened, in the
// root's namespace; others are skipped. visit must read the child to its end.
func (s *scanner) each(visit func(element) error) error {
	for {
		tok, err := s.next()
		if err != nil {
			return err
		}
		switch t := tok.(type) {
		case xml.StartElement:
			if t.Name.Space != s.space {
				err = s.skip()
			} else {
				err = visit(element{t, s.line()})
			}
			if err != nil {
				return err
			}
		case xml.EndElement:
			return nil
		}
	}
}

// skip reads to the end of the element that was just opened.
func (s *scanner) skip() error {
	for depth := 1; depth > 0; {
		tok, err := s.next()
		if err != nil {
			return err
		}
		switch tok.(type) {
		case xml.StartElement:
			depth++
		case xml.EndElement:
			depth--
		}
	}
	return nil
}

// text gives the text of the element that was just opened, without that of
// elements in it, and reads to its end. More than 64 kB are cut.
func (s *scanner) text() (string, error) {
	var first string
	var more strings.Builder
	depth := 1
	for {
		tok, err := s.next()
		if err != nil {
			return "", err
		}
		switch t := tok.(type) {
		case xml.StartElement:
			depth++
		case xml.EndElement:
			if depth--; depth == 0 {
				return strings.TrimSpace(first + more.String()), nil
			}
		case xml.CharData:
			switch {
			case depth > 1 || more.Len()+len(first) > 64<<10:
			case first == "":
				first = string(t)
			default:
				more.Write(t)
			}
		}
	}
}
