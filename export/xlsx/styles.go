package xlsx

import (
	"strings"

	"github.com/xuri/excelize/v2"
)

// styles holds the registered looks of a workbook, each registered once.
type styles struct {
	title, origin, note, group int
	head                       int
	numbers                    map[numberStyle]int
	file                       *excelize.File
}

// numberStyle is how a cell of the body looks.
type numberStyle struct {
	decimals int // -1 for text
	total    bool
	marked   bool
}

const (
	ruleColor = "C4CBD2"
	tintColor = "F2F5F7"
	inkColor  = "181C21"
)

func (s *styles) register(f *excelize.File) error {
	s.file, s.numbers = f, map[numberStyle]int{}
	for target, style := range map[*int]*excelize.Style{
		&s.title:  {Font: &excelize.Font{Bold: true, Size: 14, Color: inkColor}},
		&s.origin: {Font: &excelize.Font{Size: 9, Color: "555D67"}},
		&s.note:   {Font: &excelize.Font{Size: 9, Italic: true, Color: "555D67"}, Alignment: &excelize.Alignment{Vertical: "top"}},
		&s.group:  {Font: &excelize.Font{Bold: true}, Fill: fill(tintColor), Border: rule()},
		&s.head: {Font: &excelize.Font{Bold: true}, Fill: fill(tintColor),
			Alignment: &excelize.Alignment{WrapText: true, Vertical: "bottom"},
			Border:    []excelize.Border{{Type: "bottom", Color: inkColor, Style: 2}}},
	} {
		id, err := f.NewStyle(style)
		if err != nil {
			return err
		}
		*target = id
	}
	return nil
}

// body gives the style of a cell, registered when it is first asked for.
func (s *styles) body(n numberStyle) (int, error) {
	if id, ok := s.numbers[n]; ok {
		return id, nil
	}
	style := &excelize.Style{Border: rule(), Alignment: &excelize.Alignment{Vertical: "top", WrapText: true}}
	if n.decimals < 0 {
		text := "@" // the format of text, so that nothing typed over it becomes a formula
		style.CustomNumFmt = &text
	} else {
		format := "0"
		if n.decimals > 0 {
			format += "." + strings.Repeat("0", n.decimals)
		}
		style.CustomNumFmt = &format
		style.Alignment.Horizontal = "right"
	}
	if n.total {
		style.Font = &excelize.Font{Bold: true}
		style.Border = append(style.Border, excelize.Border{Type: "top", Color: inkColor, Style: 1})
	}
	if n.marked {
		style.Fill = fill(tintColor)
	}
	id, err := s.file.NewStyle(style)
	if err == nil {
		s.numbers[n] = id
	}
	return id, err
}

func fill(color string) excelize.Fill {
	return excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{color}}
}

func rule() []excelize.Border {
	return []excelize.Border{{Type: "bottom", Color: ruleColor, Style: 1}}
}
