// Package bench is the drawing surface: it makes a scene out of the project, finds
// what lies under the pointer, keeps the view, and hands pointer and key events to
// the tool in hand. Painting itself is package paint's.
package bench
