package table

import (
	"io"
	"strings"
)

// separators that a file may use, in the order in which a tie is settled.
const separators = "\t;|,"

const (
	sampleRows  = 60
	sampleBytes = 64 << 10
)

// separator finds what separates the cells: the candidate that cuts the first
// rows most evenly into most cells. Commas also stand in numbers and names, so
// the others count for more; the factor settles "80,3;2,7" against "1,2; 3".
func separator(text string) rune {
	best, most := ',', 0.0
	for _, sep := range separators {
		score := evenness(text, byte(sep))
		if sep != ',' {
			score *= 1.4
		}
		if score > most {
			best, most = sep, score
		}
	}
	return best
}

// evenness is 0 where a separator cuts nothing, towards 1 where it cuts all
// rows alike: the share of rows with the usual number of cells n, by (1 - 1/n).
func evenness(text string, sep byte) float64 {
	if len(text) > sampleBytes {
		text = text[:sampleBytes]
		if end := strings.LastIndexAny(text, "\r\n"); end > 0 {
			text = text[:end]
		}
	}
	s := scanner{text: text, line: 1}
	var rows float64
	counts := map[int]float64{}
	for rows < sampleRows {
		cells, err := s.next(sep)
		if err == io.EOF || err != nil { // a quotation mark cut off by the sample ends it too
			break
		}
		if len(cells) == 1 && strings.TrimSpace(cells[0]) == "" {
			continue
		}
		rows++
		if len(cells) > 1 && !s.stray { // a wrong separator cuts beside the quotation marks
			counts[len(cells)]++
		}
	}
	best := 0.0
	for n, times := range counts {
		best = max(best, times/rows*(1-1/float64(n)))
	}
	return best
}
