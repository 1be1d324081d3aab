package main

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/densilot/densilot/stats"
	"github.com/densilot/densilot/units"
)

func paragraph(format string, args ...any) part { return part{Text: fmt.Sprintf(format, args...)} }

func working(steps []units.Step) part {
	var lines []string
	for _, s := range steps {
		lines = append(lines, s.String())
	}
	return part{Working: lines}
}

// warnings is empty, and shows as nothing, where there is none.
func warnings(ws []stats.Warning) part {
	var lines []string
	for _, w := range ws {
		lines = append(lines, w.String())
	}
	return part{Warnings: lines}
}

// list joins words as in "A, B and C".
func list(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}

func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// signed writes a difference with its sign.
func signed(x float64) string { return minus(fmt.Sprintf("%+.2f", x)) }

// sentence begins with a capital letter.
func sentence(s string) string {
	first, size := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(first)) + s[size:]
}
