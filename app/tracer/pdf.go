package tracer

// openPDF lists the pictures in a scanned PDF.
func (r *Room) openPDF(string) { r.say("A scanned PDF cannot be read yet.") }
