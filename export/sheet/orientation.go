package sheet

import (
	"bytes"
	"encoding/binary"
)

// Orientation returns how a JPEG file says that its picture is to be turned before it
// is looked at: 1 to 8, 1 upright, 0 where it says nothing. It stands in tag 0x0112 of
// the first directory of the Exif segment (Exif 2.3, clause 4.6.4, tag Orientation;
// TIFF 6.0 for the directory; from memory, and held against files of Pillow).
func Orientation(file []byte) int {
	for at := 2; at+4 <= len(file) && file[at] == 0xff; {
		marker, size := file[at+1], int(binary.BigEndian.Uint16(file[at+2:]))
		end := at + 2 + size
		if marker == 0xda || size < 2 || end > len(file) { // the picture begins, or the file is damaged
			return 0
		}
		if segment := file[at+4 : end]; marker == 0xe1 && bytes.HasPrefix(segment, []byte("Exif\x00\x00")) {
			return tiffOrientation(segment[6:])
		}
		at = end
	}
	return 0
}

// tiffOrientation reads the tag from a TIFF header and its first directory.
func tiffOrientation(t []byte) int {
	if len(t) < 8 {
		return 0
	}
	var order binary.ByteOrder = binary.LittleEndian
	if t[0] == 'M' {
		order = binary.BigEndian
	}
	first := order.Uint32(t[4:])
	if uint64(first)+2 > uint64(len(t)) {
		return 0
	}
	dir := t[first:]
	n := int(order.Uint16(dir))
	for i := range n {
		entry := 2 + 12*i
		if entry+12 > len(dir) {
			return 0
		}
		if order.Uint16(dir[entry:]) == 0x0112 {
			if v := int(order.Uint16(dir[entry+8:])); v >= 1 && v <= 8 {
				return v
			}
			return 0
		}
	}
	return 0
}
