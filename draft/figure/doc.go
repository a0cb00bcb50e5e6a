// Package figure draws a generic wearer of our own from the front and from the
// side, true to its measures, and says where on it each measure is taken. All
// lengths are in mm, feet at y = 0, y up, x = 0 in the middle.
package figure
