//go:build !js

package main

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"math"
)

// The mark: a shaft from corner to corner and the tapered ring on it that
// gives the project its name. pwa/icon.svg draws the same shapes; both are
// our own drawing. Coordinates are shares of the width, before a turn of
// tilt about the middle.
const (
	tilt      = 0.61 // [rad] about 35 degrees
	shaftHalf = 0.055
	ringTop   = -0.20 // along the shaft, from the middle
	ringEnd   = 0.20
	ringNear  = 0.105 // half widths of the ring at its two ends
	ringFar   = 0.185
)

var (
	paper  = color.NRGBA{0xf6, 0xf4, 0xee, 0xff}
	ink    = color.NRGBA{0x1d, 0x23, 0x28, 0xff}
	accent = color.NRGBA{0x1f, 0x6f, 0x54, 0xff}
)

// icon draws the mark as PNG. A maskable icon fills its square and keeps the
// mark within the inner circle of 80 %.
func icon(size int, maskable bool) []byte {
	const sub = 4 // samples per pixel and direction
	img := image.NewNRGBA(image.Rect(0, 0, size, size))
	scale := 1.0
	if maskable {
		scale = 0.72
	}
	for py := range size {
		for px := range size {
			var r, g, b, a float64
			for s := range sub * sub {
				x := (float64(px)+(float64(s%sub)+0.5)/sub)/float64(size) - 0.5
				y := (float64(py)+(float64(s/sub)+0.5)/sub)/float64(size) - 0.5
				c := sample(x, y, scale, maskable)
				w := float64(c.A) / 255
				r, g, b, a = r+w*float64(c.R), g+w*float64(c.G), b+w*float64(c.B), a+w
			}
			if a == 0 {
				continue
			}
			img.SetNRGBA(px, py, color.NRGBA{byte(r/a + 0.5), byte(g/a + 0.5), byte(b/a + 0.5), byte(255*a/(sub*sub) + 0.5)})
		}
	}
	var out bytes.Buffer
	enc := png.Encoder{CompressionLevel: png.BestCompression}
	if err := enc.Encode(&out, img); err != nil {
		panic(err) // a buffer takes every byte
	}
	return out.Bytes()
}

// sample is the colour at a place, from the middle of the square.
func sample(x, y, scale float64, full bool) color.NRGBA {
	if !full && !insideRounded(x, y, 0.5, 0.11) {
		return color.NRGBA{}
	}
	x, y = x/scale, y/scale
	u := math.Cos(tilt)*x + math.Sin(tilt)*y  // across the shaft
	v := -math.Sin(tilt)*x + math.Cos(tilt)*y // along it, downwards
	if v >= ringTop && v <= ringEnd {
		half := ringNear + (ringFar-ringNear)*(v-ringTop)/(ringEnd-ringTop)
		if math.Abs(u) <= half {
			// two lines of paper set the ring off, as bands do on a real one
			if math.Abs(v-0.055) < 0.016 || math.Abs(v-0.125) < 0.016 {
				return paper
			}
			return accent
		}
	}
	if math.Abs(u) <= shaftHalf && math.Abs(v) <= 0.44 {
		return ink
	}
	return paper
}

func insideRounded(x, y, half, radius float64) bool {
	dx, dy := math.Abs(x)-(half-radius), math.Abs(y)-(half-radius)
	return dx <= 0 || dy <= 0 || dx*dx+dy*dy <= radius*radius
}
