package main

import (
	"image/color"

	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"gonum.org/v1/plot"
)

// The colours of data are those of Okabe and Ito (Color Universal Design, 2008, from
// memory), which stay apart for every kind of colour vision. Every series also has a
// shape or a dash of its own, so that nothing is lost in black and white.
var (
	ink        = color.RGBA{0x1b, 0x1e, 0x23, 0xff}
	grey       = color.RGBA{0x6a, 0x6f, 0x78, 0xff}
	faint      = color.RGBA{0xe3, 0xe4, 0xe6, 0xff}
	blue       = color.RGBA{0x00, 0x72, 0xb2, 0xff}
	vermillion = color.RGBA{0xd5, 0x5e, 0x00, 0xff}
	green      = color.RGBA{0x00, 0x9e, 0x73, 0xff}
	paleBlue   = color.RGBA{0xcf, 0xe3, 0xf0, 0xff}
	paleRed    = color.RGBA{0xf8, 0xdc, 0xc4, 0xff}
)

var (
	solid   []vg.Length
	dashed  = []vg.Length{7, 3}
	dotted  = []vg.Length{1.5, 3}
	dashDot = []vg.Length{9, 3, 1.5, 3}
)

func stroke(c color.Color, width vg.Length, dashes []vg.Length) draw.LineStyle {
	return draw.LineStyle{Color: c, Width: width, Dashes: dashes}
}

func glyph(c color.Color, radius vg.Length, shape draw.GlyphDrawer) draw.GlyphStyle {
	return draw.GlyphStyle{Color: c, Radius: radius, Shape: shape}
}

// letters are the metrics of Liberation Sans, which are those of Arial and Helvetica:
// text takes the same room whichever of them the reader has.
func letters(size font.Length) text.Style {
	return text.Style{Color: ink, Font: font.From(font.Font{Typeface: "Liberation", Variant: "Sans"}, size), Handler: plot.DefaultTextHandler}
}
