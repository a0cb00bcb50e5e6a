package intake

// exifFacts is what of Exif is read: how a picture is turned, and its resolution.
type exifFacts struct {
	turn orientation
	dpi  float64
}

// unknownDPI is what Exif has written where the resolution is not known (JEITA CP-3451,
// 4.6.4, from memory): cameras have it in every photograph.
const unknownDPI = 72

// exifOf reads the tags of an Exif block, which is laid out as a TIFF file. What cannot
// be read counts as not being there: a picture can be seen without it.
func exifOf(block []byte) exifFacts {
	facts := exifFacts{turn: upright}
	dir, _, err := readTags(block, 0)
	if err != nil {
		return facts
	}
	facts.turn = dir.orientation()
	if dpi := dir.dpi(); dpi != unknownDPI {
		facts.dpi = dpi
	}
	return facts
}
