package table

import (
	"archive/zip"
	"bytes"
	"fmt"
	"strings"
)

// ratioFrom is the unpacked size from which the ratio is looked at: small
// workbooks of much repeated text may pack very well.
const ratioFrom = 4 << 20

// checkArchive looks at a workbook's parts before any is unpacked. The sizes
// stated there bind: archive/zip stops reading a part that turns out longer.
func checkArchive(data []byte, limits Limits) error {
	zr, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return fmt.Errorf("the workbook is damaged or cut off: save it again as .xlsx, or as CSV")
	}
	if len(zr.File) > limits.Entries {
		return fmt.Errorf("the workbook has %s parts; at most %s are read: save only the worksheet with the list", Count(len(zr.File)), Count(limits.Entries))
	}
	var unpacked uint64
	names := map[string]bool{}
	for _, f := range zr.File {
		name := strings.ToLower(strings.ReplaceAll(f.Name, `\`, "/"))
		if names[name] {
			return fmt.Errorf("the workbook is damaged: it has the part %.60q twice. Save it again as .xlsx", f.Name)
		}
		names[name] = true
		if f.UncompressedSize64 > uint64(limits.Unpacked) {
			unpacked = f.UncompressedSize64
			break
		}
		unpacked += f.UncompressedSize64
	}
	if unpacked > uint64(limits.Unpacked) || unpacked > ratioFrom && unpacked/uint64(limits.Ratio) > uint64(len(data)) {
		return fmt.Errorf("the workbook unpacks to more than may be read (%s, or %d times its size): save only the worksheet with the list", megabytes(limits.Unpacked), limits.Ratio)
	}
	return checkParts(names)
}

// checkParts tells a workbook from other things in the same packing.
func checkParts(names map[string]bool) error {
	switch {
	case names["xl/workbook.xml"]:
		return nil
	case names["xl/workbook.bin"]:
		return fmt.Errorf("this is a binary workbook (.xlsb): open it and save it as .xlsx or CSV")
	case names["word/document.xml"]:
		return fmt.Errorf("this is a text document (.docx), not a table: save the table in it as .xlsx or CSV")
	case names["mimetype"] && names["content.xml"]:
		return fmt.Errorf("this is an OpenDocument file: open it and save it as .xlsx or CSV")
	}
	return fmt.Errorf("this is a packed file (ZIP) without a workbook in it: unpack it and choose the .xlsx or CSV file")
}
