package exchange

import (
	"fmt"
	"strconv"
	"strings"

	"railwright/internal/hardware"
)

// Span is a run of bits of one area of the process image, counted from its first.
type Span struct {
	From int // byte * 8 + bit
	Bits int
}

// Byte and Bit say where the span begins.
func (s Span) Byte() int { return s.From / 8 }

// Bit is the bit of that byte.
func (s Span) Bit() int { return s.From % 8 }

func (s Span) past() int { return s.From + s.Bits }

func spanOf(set *hardware.ChannelSet, first, i int) Span {
	if set.Bits == 1 {
		return Span{From: (first+set.Offset)*8 + i, Bits: 1}
	}
	return Span{From: (first+set.Offset)*8 + i*set.Bits, Bits: set.Bits}
}

// Print writes a span as a located address of the area ('I' or 'Q'). Convention "byte" counts bytes,
// "word" counts units of the address's own size, with bits 0 to 15 of a word (IEC 61131-3 leaves the
// numbering to the controller).
func Print(area byte, s Span, convention string) string {
	word := convention == "word"
	at := s.Byte()
	switch {
	case s.Bits == 1 && word:
		return fmt.Sprintf("%%%cX%d.%d", area, s.From/16, s.From%16)
	case s.Bits == 1:
		return fmt.Sprintf("%%%cX%d.%d", area, at, s.Bit())
	case s.Bits == 16 && word:
		return fmt.Sprintf("%%%cW%d", area, at/2)
	case s.Bits == 16:
		return fmt.Sprintf("%%%cW%d", area, at)
	case s.Bits == 32 && word:
		return fmt.Sprintf("%%%cD%d", area, at/4)
	case s.Bits == 32:
		return fmt.Sprintf("%%%cD%d", area, at)
	}
	return fmt.Sprintf("%%%cB%d", area, at)
}

// ParseAddress reads a located address: %, area I or Q, size X, B, W or D, one or two numbers. It refuses
// what IEC 61131-3 refuses (no size before a single number counts as X, more levels than the size has)
// and numbers beyond 16,777,215, which no controller has.
func ParseAddress(text, convention string) (area byte, s Span, err error) {
	bad := func(why string) (byte, Span, error) { return 0, Span{}, fmt.Errorf("address %q: %s", text, why) }
	if len(text) < 4 || text[0] != '%' {
		return bad("want % and an area, such as %IX0.0 or %QW4")
	}
	area = text[1]
	if area != 'I' && area != 'Q' {
		return bad("area is I or Q")
	}
	bits, ok := map[byte]int{'X': 1, 'B': 8, 'W': 16, 'D': 32}[text[2]]
	if !ok {
		return bad("size is X, B, W or D")
	}
	first, second, dotted := strings.Cut(text[3:], ".")
	n, ok := index(first)
	if !ok || dotted != (bits == 1) {
		return bad("a bit has byte and bit number, everything else one number")
	}
	word := convention == "word"
	if bits == 1 {
		most, unit := 7, 8
		if word {
			most, unit = 15, 16
		}
		b, ok := index(second)
		if !ok || b > most {
			return bad(fmt.Sprintf("bit number is 0 to %d", most))
		}
		return area, Span{From: n*unit + b, Bits: 1}, nil
	}
	if word {
		return area, Span{From: n * bits, Bits: bits}, nil
	}
	return area, Span{From: n * 8, Bits: bits}, nil
}

func index(digits string) (int, bool) {
	if digits == "" || len(digits) > 8 || len(digits) > 1 && digits[0] == '0' {
		return 0, false
	}
	for i := range len(digits) {
		if digits[i] < '0' || digits[i] > '9' {
			return 0, false
		}
	}
	n, err := strconv.Atoi(digits)
	return n, err == nil && n < 1<<24
}
