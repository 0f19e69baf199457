package gbxml

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"io"
	"regexp"
	"unicode/utf16"
	"unicode/utf8"

	"golang.org/x/text/encoding/htmlindex"
	"golang.org/x/text/transform"

	"scopewright/store/intake/building"
)

// source gives the file as UTF-8 that an XML decoder takes, byte by byte: it
// transcodes, replaces what is no text, and bounds size, time and single tokens.
type source struct {
	in       *bufio.Reader
	counted  *counter
	order    byteOrder
	pending  [utf8.UTFMax]byte
	from, to int // what of pending is still to be given
	limits   Limits
	token    int // bytes given since the last token
	replaced int // letters that were no text
	encoding string
}

type byteOrder int

const (
	notUTF16 byteOrder = iota
	littleEndian
	bigEndian
)

// counter counts the bytes of the file, reports progress and stops when the
// context ends.
type counter struct {
	r        io.Reader
	ctx      context.Context
	done     int64
	size     int64
	reported int64
	limit    int64
	progress building.Progress
}

const reportEvery = 256 << 10 // bytes

func (c *counter) Read(p []byte) (int, error) {
	if err := c.ctx.Err(); err != nil {
		return 0, err
	}
	n, err := c.r.Read(p)
	c.done += int64(n)
	if c.done > c.limit {
		return 0, tooLarge(c.limit)
	}
	if c.progress != nil && (c.done-c.reported >= reportEvery || err == io.EOF) {
		c.reported = c.done
		c.progress(c.done, max(c.size, c.done))
	}
	return n, err
}

// openSource looks at the first bytes: wrong kinds of file are named, UTF-16 is
// told by its mark or its zero bytes. A label in the file decides only between
// one-byte encodings: labels of UTF-8 and UTF-16 were seen to be wrong [files].
func openSource(ctx context.Context, r io.Reader, size int64, limits Limits, progress building.Progress) (*source, error) {
	c := &counter{r: r, ctx: ctx, size: size, limit: limits.Bytes, progress: progress}
	s := &source{in: bufio.NewReaderSize(c, 64<<10), counted: c, limits: limits, encoding: "UTF-8"}
	head, err := s.in.Peek(building.HeadSize)
	if err != nil && err != io.EOF {
		return nil, unreadable(err)
	}
	kind := building.KindOf(head)
	if kind != building.GBXMLFile && kind != building.XMLFile && kind != building.HTMLFile {
		return nil, building.Refuse("%s", kind.Sentence(building.GBXMLFile))
	}
	mark := 0
	switch {
	case bytes.HasPrefix(head, []byte("\xef\xbb\xbf")):
		mark = 3
	case bytes.HasPrefix(head, []byte("\xff\xfe")):
		mark, s.order = 2, littleEndian
	case bytes.HasPrefix(head, []byte("\xfe\xff")):
		mark, s.order = 2, bigEndian
	case bytes.HasPrefix(head, []byte("<\x00")):
		s.order = littleEndian
	case bytes.HasPrefix(head, []byte("\x00<")):
		s.order = bigEndian
	default:
		if err := s.useLabel(head); err != nil {
			return nil, err
		}
	}
	if s.order != notUTF16 {
		s.encoding = "UTF-16"
	}
	if _, err := s.in.Discard(mark); err != nil {
		return nil, unreadable(err)
	}
	return s, nil
}

var encodingLabel = regexp.MustCompile(`^\s*<\?xml[^>]*?encoding\s*=\s*["']([A-Za-z0-9._:-]{1,40})["']`)

// useLabel decodes the encodings of one byte a letter that older programs write.
func (s *source) useLabel(head []byte) error {
	m := encodingLabel.FindSubmatch(head)
	if m == nil {
		return nil
	}
	label := string(m[1])
	enc, err := htmlindex.Get(label)
	if err != nil {
		return building.Refuse("The file says that its encoding is %q, which cannot be read here. Save it as UTF-8.", label)
	}
	name, err := htmlindex.Name(enc)
	if err != nil || name == "utf-8" || name == "utf-16le" || name == "utf-16be" || name == "replacement" {
		return nil
	}
	s.in = bufio.NewReaderSize(transform.NewReader(s.in, enc.NewDecoder()), 64<<10)
	s.encoding = name
	return nil
}

// ReadByte gives the next byte of UTF-8.
func (s *source) ReadByte() (byte, error) {
	if s.token++; s.token > s.limits.TokenBytes {
		return 0, building.Refuse("A single tag or text is longer than %s kB", building.Count(s.limits.TokenBytes>>10))
	}
	if s.from < s.to {
		s.from++
		return s.pending[s.from-1], nil
	}
	if s.order != notUTF16 {
		r, err := s.utf16Rune()
		if err != nil {
			return 0, err
		}
		return s.give(r), nil
	}
	b, err := s.in.ReadByte()
	if err != nil {
		return 0, err
	}
	if b >= ' ' && b < utf8.RuneSelf || b == '\n' || b == '\r' || b == '\t' {
		return b, nil
	}
	if b < utf8.RuneSelf {
		return s.give(rune(b)), nil
	}
	if err := s.in.UnreadByte(); err != nil {
		return 0, err
	}
	r, _, err := s.in.ReadRune()
	if err != nil {
		return 0, err
	}
	return s.give(r), nil
}

// give puts a letter in line; what XML does not allow becomes U+FFFD.
func (s *source) give(r rune) byte {
	if !allowedInXML(r) {
		s.replaced++
		r = utf8.RuneError
	}
	s.from, s.to = 1, utf8.EncodeRune(s.pending[:], r)
	return s.pending[0]
}

// allowedInXML is the Char production of XML 1.0, fifth edition, section 2.2.
// U+FFFD is allowed there and stands for broken bytes here.
func allowedInXML(r rune) bool {
	return r == '\t' || r == '\n' || r == '\r' || r >= 0x20 && r <= 0xD7FF || r >= 0xE000 && r < utf8.RuneError || r >= 0x10000
}

func (s *source) utf16Rune() (rune, error) {
	first, err := s.utf16Unit()
	if err != nil || !utf16.IsSurrogate(first) {
		return first, err
	}
	next, err := s.in.Peek(2)
	if err != nil {
		return utf8.RuneError, nil // the file ends inside a letter
	}
	r := utf16.DecodeRune(first, s.unit(next[0], next[1]))
	if r != utf8.RuneError {
		_, err = s.in.Discard(2)
	}
	return r, err
}

func (s *source) utf16Unit() (rune, error) {
	a, err := s.in.ReadByte()
	if err != nil {
		return 0, err
	}
	b, err := s.in.ReadByte()
	if err == io.EOF {
		return utf8.RuneError, nil // one byte too many at the end
	}
	return s.unit(a, b), err
}

func (s *source) unit(a, b byte) rune {
	if s.order == littleEndian {
		a, b = b, a
	}
	return rune(a)<<8 | rune(b)
}

// Read is there because a decoder asks for an io.Reader; it uses ReadByte.
func (s *source) Read(p []byte) (int, error) {
	if len(p) == 0 {
		return 0, nil
	}
	b, err := s.ReadByte()
	if err != nil {
		return 0, err
	}
	p[0] = b
	return 1, nil
}

func unreadable(err error) error {
	var told *building.Refusal
	if errors.As(err, &told) || errors.Is(err, context.Canceled) || errors.Is(err, context.DeadlineExceeded) {
		return err
	}
	return &building.Refusal{Message: "The file could not be read to its end. Try to upload it again.", Cause: err}
}
