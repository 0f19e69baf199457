package table

import (
	"fmt"
	"io"
	"strings"
)

func (t *Table) readCSV(data []byte, opt Options, limits Limits) error {
	text, note, err := decode(data)
	if err != nil {
		return err
	}
	if note != "" {
		t.note("%s", note)
	}
	t.Format, t.Separator = CSV, opt.Separator
	s := scanner{text: text, line: 1}
	if told := separatorLine(text); told != 0 {
		if t.Separator == 0 {
			t.Separator = told
		}
		s.skipLine()
	}
	if t.Separator == 0 {
		t.Separator = separator(s.text[s.at:])
	}
	keep := keeper{table: t, limits: limits}
	for {
		line := s.line
		cells, err := s.next(byte(t.Separator))
		if err == io.EOF {
			break
		}
		if err == nil {
			err = keep.add(line, cells)
		}
		if err != nil {
			return err
		}
	}
	return keep.overflow()
}

// separatorLine reads the line "sep=;" with which some programs start a file.
func separatorLine(text string) rune {
	first, _, _ := strings.Cut(text, "\n")
	first = strings.TrimRight(first, "\r")
	if len(first) == 5 && strings.EqualFold(first[:4], "sep=") && strings.ContainsRune(separators, rune(first[4])) {
		return rune(first[4])
	}
	return 0
}

// scanner cuts text into rows as RFC 4180 says, and takes what people write
// beyond it: any line ending, a lone quotation mark within a cell (9'-6"), and
// letters after a closing one. Rows may have any number of cells.
type scanner struct {
	text  string
	at    int
	line  int
	cells []string // reused
	stray bool     // the last row has letters behind a closing quotation mark
}

// next gives the next row; the slice holds until the next call. At the end of
// the text it gives io.EOF.
func (s *scanner) next(sep byte) ([]string, error) {
	if s.at >= len(s.text) {
		return nil, io.EOF
	}
	s.cells, s.stray = s.cells[:0], false
	for {
		cell, err := s.cell(sep)
		if err != nil {
			return nil, err
		}
		s.cells = append(s.cells, cell)
		if s.at >= len(s.text) {
			return s.cells, nil
		}
		switch c := s.text[s.at]; c {
		case sep:
			if s.at++; s.at >= len(s.text) {
				s.cells = append(s.cells, "")
				return s.cells, nil
			}
		default: // a line ending: cell stops nowhere else
			s.endLine()
			return s.cells, nil
		}
	}
}

func (s *scanner) endLine() {
	if s.text[s.at] == '\r' && s.at+1 < len(s.text) && s.text[s.at+1] == '\n' {
		s.at++
	}
	s.at++
	s.line++
}

func (s *scanner) skipLine() {
	for s.at < len(s.text) && s.text[s.at] != '\n' && s.text[s.at] != '\r' {
		s.at++
	}
	if s.at < len(s.text) {
		s.endLine()
	}
}

// cell reads up to the separator or line ending that ends the cell.
func (s *scanner) cell(sep byte) (string, error) {
	start := s.at
	for start < len(s.text) && s.text[start] == ' ' {
		start++
	}
	if start < len(s.text) && s.text[start] == '"' {
		s.at = start
		return s.quoted(sep)
	}
	return s.plain(sep), nil
}

func (s *scanner) plain(sep byte) string {
	start := s.at
	for s.at < len(s.text) {
		if c := s.text[s.at]; c == sep || c == '\n' || c == '\r' {
			break
		}
		s.at++
	}
	return s.text[start:s.at]
}

// quoted reads a cell in quotation marks, line endings within it as "\n".
func (s *scanner) quoted(sep byte) (string, error) {
	opened := s.line
	s.at++
	start := s.at
	var built strings.Builder
	for s.at < len(s.text) {
		switch c := s.text[s.at]; c {
		case '"':
			if s.at+1 < len(s.text) && s.text[s.at+1] == '"' {
				built.WriteString(s.text[start : s.at+1])
				s.at += 2
				start = s.at
				continue
			}
			inside := s.text[start:s.at]
			s.at++
			return s.closed(&built, inside, s.plain(sep)), nil
		case '\r', '\n':
			built.WriteString(s.text[start:s.at])
			built.WriteByte('\n')
			s.endLine()
			start = s.at
		default:
			s.at++
		}
	}
	return "", fmt.Errorf("the quotation mark that opens on line %d is never closed: close it, or take it away", opened)
}

// closed joins what was built, the rest within the marks and what follows them.
func (s *scanner) closed(built *strings.Builder, inside, after string) string {
	after = strings.TrimRight(after, " ")
	s.stray = s.stray || after != ""
	if built.Len() == 0 && after == "" {
		return inside
	}
	built.WriteString(inside)
	built.WriteString(after)
	return built.String()
}
