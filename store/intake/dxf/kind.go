package dxf

import (
	"bytes"
	"errors"
	"fmt"

	"scopewright/store/intake/building"
)

// recognize refuses what is not a drawing in this format, and names what it is.
// What cannot be told from its start is left to the reader of groups, which
// names the line that is wrong.
func recognize(data []byte) error {
	if len(data) > MaxBytes {
		return fmt.Errorf("the file has %d MB; at most %d MB are read: export one storey at a time, without pictures and 3-D parts", len(data)>>20, MaxBytes>>20)
	}
	switch kind := building.KindOf(data[:min(len(data), building.HeadSize)]); {
	case kind == building.DXFBinary && !bytes.HasPrefix(data, binaryMark):
		return errors.New("the start of this binary drawing is damaged, often by sending it as text: send it again inside a ZIP archive")
	case kind == building.DXFFile, kind == building.DXFBinary:
	case bytes.HasPrefix(data, []byte("\xff\xfe")), bytes.HasPrefix(data, []byte("\xfe\xff")):
		return errors.New("this file is written in UTF-16, which DXF never is: save it again as DXF")
	case kind != building.UnknownFile:
		return errors.New(kind.Sentence(building.DXFFile))
	}
	return nil
}
