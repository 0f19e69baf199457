package table

import (
	"bytes"
	"encoding/xml"
	"path"
	"regexp"
	"sort"
	"strings"

	"github.com/xuri/excelize/v2"
)

// Bounds on the work that a worksheet's list of merged blocks may cause.
const (
	mostBlocks = 20_000
	mostFilled = 1_000_000 // rows looked at
)

var mergeRef = regexp.MustCompile(`mergeCell\s[^>]*?ref="(\$?[A-Z]{1,3}\$?[0-9]{1,7}):(\$?[A-Z]{1,3}\$?[0-9]{1,7})"`)

// fillMerged gives the cells of a merged block down a column the block's text,
// so that "Level 1" beside five rooms is the storey of all five. A block across
// columns only is a title: it keeps its one cell. The list is read from the
// worksheet's bytes, for the library would build the whole sheet in memory.
func (t *Table) fillMerged(book *excelize.File, sheet string, columns int) {
	bytesOf := func(name string) []byte {
		part, _ := book.Pkg.Load(name)
		b, _ := part.([]byte)
		return b
	}
	part := bytesOf(sheetPart(bytesOf, sheet))
	start := bytes.Index(part, []byte("mergeCells")) // the list stands behind the rows
	if start < 0 {
		return
	}
	filled, looked := 0, 0
	for _, m := range mergeRef.FindAllSubmatch(part[start:], mostBlocks) {
		left, top, err1 := excelize.CellNameToCoordinates(string(m[1]))
		_, bottom, err2 := excelize.CellNameToCoordinates(string(m[2]))
		if err1 != nil || err2 != nil || bottom <= top || left > columns {
			continue
		}
		f, l := t.fillBlock(left-1, top, bottom)
		filled += f
		if looked += l; looked > mostFilled {
			break
		}
	}
	if filled > 0 {
		t.note("%s cells below the first one of a merged block were given its text.", Count(filled))
	}
}

func (t *Table) fillBlock(column, top, bottom int) (filled, looked int) {
	i := sort.Search(len(t.Rows), func(i int) bool { return t.Rows[i].Line >= top })
	if i == len(t.Rows) || t.Rows[i].Line != top {
		return 0, 0
	}
	text := t.Rows[i].Cell(column)
	if strings.TrimSpace(text) == "" {
		return 0, 0
	}
	for i++; i < len(t.Rows) && t.Rows[i].Line <= bottom; i++ {
		looked++
		for len(t.Rows[i].Cells) <= column {
			t.Rows[i].Cells = append(t.Rows[i].Cells, "")
		}
		if t.Rows[i].Cells[column] == "" {
			t.Rows[i].Cells[column] = text
			filled++
		}
	}
	return filled, looked
}

// sheetPart finds the part of the workbook that holds a worksheet: by way of
// the workbook's list of sheets and its relationships (ECMA-376 part 1, 18.2).
func sheetPart(bytesOf func(string) []byte, sheet string) string {
	var book struct {
		Sheets []struct {
			Name string     `xml:"name,attr"`
			Any  []xml.Attr `xml:",any,attr"`
		} `xml:"sheets>sheet"`
	}
	var rels struct {
		All []struct {
			ID     string `xml:"Id,attr"`
			Target string `xml:"Target,attr"`
		} `xml:"Relationship"`
	}
	if xml.Unmarshal(bytesOf("xl/workbook.xml"), &book) != nil || xml.Unmarshal(bytesOf("xl/_rels/workbook.xml.rels"), &rels) != nil {
		return ""
	}
	for _, s := range book.Sheets {
		if s.Name != sheet {
			continue
		}
		for _, a := range s.Any {
			for _, r := range rels.All {
				if a.Name.Local == "id" && r.ID == a.Value {
					return partName(r.Target)
				}
			}
		}
	}
	return ""
}

func partName(target string) string {
	if strings.HasPrefix(target, "/") {
		return strings.TrimPrefix(path.Clean(target), "/")
	}
	return path.Join("xl", target)
}
