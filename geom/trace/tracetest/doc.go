// Package tracetest makes scans and photographs of pattern pieces that are known, for
// tests of what reads them: pieces as paths in mm, sheets with ink on them, and scanners
// and cameras that look at the sheets with blur, noise, uneven light and the rest. The
// truth comes along with every picture. It shares no code with what it tests.
//
// A sheet lies in mm, y up, with its lower left corner at the origin. Pictures are in
// pixels from the top left corner of the top left pixel, y down. All that is random
// comes from seeds, so that a picture can be made again.
package tracetest
