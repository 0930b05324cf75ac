package job

import (
	"bytes"
	"encoding/binary"
	"image"
)

// Where a JPEG says which way up it was taken: Exif 2.32 (CIPA DC-008-2019),
// 4.5.4 (the APP1 segment) and 4.6.4 A (tag Orientation, 0x0112, SHORT); TIFF 6.0,
// section 2 (header, directory and entries). From memory.
const (
	markSOI         = 0xd8
	markSOS         = 0xda
	markEOI         = 0xd9
	markAPP1        = 0xe1
	markRST0        = 0xd0 // restarts, which stand inside a pass
	markRST7        = 0xd7
	tiffHeader      = 8
	entrySize       = 12
	tagOrientation  = 0x0112
	typeShort       = 3
	entriesMost     = 512 // a directory of a camera has 10 to 20
	orientationMost = 8
)

// orientation returns which way up a JPEG says it was taken, 1 to 8; 1, as it is,
// when it says nothing that can be read. It never fails: a picture with a
// damaged note beside it is still a picture.
func orientation(data []byte) int {
	if len(data) < 2 || data[0] != 0xff || data[1] != markSOI {
		return 1
	}
	for at := 2; at+4 <= len(data); {
		if data[at] != 0xff {
			return 1
		}
		mark := data[at+1]
		if mark == 0xff { // fill
			at++
			continue
		}
		if mark == markSOS || mark == markEOI {
			return 1
		}
		size := int(binary.BigEndian.Uint16(data[at+2:]))
		if size < 2 || at+2+size > len(data) {
			return 1
		}
		if body := data[at+4 : at+2+size]; mark == markAPP1 && bytes.HasPrefix(body, []byte("Exif\x00\x00")) {
			return tiffOrientation(body[6:])
		}
		at += 2 + size
	}
	return 1
}

// passes counts the passes (scans) that a JPEG is made of: 1 to 3 plainly, some ten
// when it comes into sight step by step. Each goes over the whole picture, so that
// a small file of very many would be worked on for hours. What stands behind the
// picture, as a phone's few seconds of film, is not looked at.
func passes(data []byte) int {
	n := 0
	for at := 2; at+4 <= len(data); {
		if data[at] != 0xff || data[at+1] == 0 || data[at+1] == 0xff || data[at+1] >= markRST0 && data[at+1] <= markRST7 {
			at++ // inside a pass, or fill
			continue
		}
		mark := data[at+1]
		if mark == markEOI {
			return n
		}
		if mark == markSOS {
			n++
		}
		at += 2 + max(2, int(binary.BigEndian.Uint16(data[at+2:])))
	}
	return n
}

// tiffOrientation reads the tag in the first directory.
func tiffOrientation(t []byte) int {
	if len(t) < tiffHeader {
		return 1
	}
	var order binary.ByteOrder = binary.LittleEndian
	switch string(t[:2]) {
	case "MM":
		order = binary.BigEndian
	case "II":
	default:
		return 1
	}
	dir := uint64(order.Uint32(t[4:]))
	if order.Uint16(t[2:]) != 42 || dir+2 > uint64(len(t)) {
		return 1
	}
	n := int(order.Uint16(t[dir:]))
	for i := range min(n, entriesMost) {
		at := dir + 2 + uint64(i)*entrySize
		if at+entrySize > uint64(len(t)) {
			return 1
		}
		e := t[at:]
		if order.Uint16(e) != tagOrientation {
			continue
		}
		v := int(order.Uint16(e[8:]))
		if order.Uint16(e[2:]) != typeShort || order.Uint32(e[4:]) != 1 || v < 1 || v > orientationMost {
			return 1
		}
		return v
	}
	return 1
}

// upright turns a picture the way its orientation says: where row 0 and column 0
// of what is stored belong (Exif 2.32, Orientation).
func upright(img *image.RGBA, o int) *image.RGBA {
	if o < 2 || o > orientationMost {
		return img
	}
	w, h := img.Bounds().Dx(), img.Bounds().Dy()
	ow, oh := w, h
	if o >= 5 {
		ow, oh = h, w
	}
	out := image.NewRGBA(image.Rect(0, 0, ow, oh))
	for y := range h {
		for x := range w {
			var tx, ty int
			switch o {
			case 2: // row 0 is the top, column 0 the right side
				tx, ty = w-1-x, y
			case 3: // bottom, right
				tx, ty = w-1-x, h-1-y
			case 4: // bottom, left
				tx, ty = x, h-1-y
			case 5: // left, top
				tx, ty = y, x
			case 6: // right, top
				tx, ty = h-1-y, x
			case 7: // right, bottom
				tx, ty = h-1-y, w-1-x
			case 8: // left, bottom
				tx, ty = y, w-1-x
			}
			copy(out.Pix[out.PixOffset(tx, ty):][:4], img.Pix[img.PixOffset(x, y):][:4])
		}
	}
	return out
}
