// Package tracer is the room in which scans and photographs of patterns become pieces:
// the pictures at the left, each at its place on the bench in the middle, the steps down
// the right side with the panel of the one that is taken.
//
// A step is one small type in its own files with the methods of step (step.go). It
// embeds *plain, which has an answer for each that changes nothing, and so writes only
// those that it has use for. New steps are listed in steps.go. What a step gets from the
// room:
//
//	r.desk, r.unit(), r.say(…)      the document, lengths in words, the status line
//	r.chosen(), r.pictures()        the picture in hand, and all
//	r.read(pic)                     its pixels, nil fields while they are read
//	r.work(word, pics, do)          slow work aside, with progress and Stop; what comes of
//	                                it is dropped where one of the pictures has changed
//	run(r, act, args)               does an act, or tells why it could not
//	r.redraw()                      asks the step for its layers anew
//	r.update()                      shows all anew, ticks included
//	r.goTo(name)                    takes another step
//	r.reach(units)                  how many mm a reach of the pointer covers
//
// Places that a step is told are mm on the bench; pic.PixelAt leads to the pixels of a
// picture, and pic.Place.Apply from there. A click comes to tapped. A press is offered to
// press first: what that takes comes to drag and drop and never moves the view.
//
// The steps from Clean on share what was found (finds.go): settings, lines, what the
// pattern was made for, and what was put on the bench. Following begins by itself when
// something that it depends on has changed (effort.go) and its last result is shown greyed
// until then. Following by hand is guiding.go: stops in, questions to follow.Guide aside,
// ways out. What a line lies off the ink is drawn by grade.go and offmarks.go.
package tracer
