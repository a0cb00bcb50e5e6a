package bodytest

import (
	"bytes"
	_ "embed"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"hemlet/draft/body"
)

// Column says how a measure comes out of the columns of ANSUR II, the survey of US
// Army personnel of 2012 (C. C. Gordon and others, technical report
// NATICK/TR-15/007, 2014; its figures were released without restriction). All
// columns are in mm.
type Column struct {
	Measure string
	// From are the columns: the measure is the first less the second, if any.
	From []string
	// Apart says where the survey measures something a little different.
	Apart string
}

// Columns is the whole mapping.
//
// The waist of the survey lies at the navel, which is lower than where most bodies
// bend: by 46 mm in women and 35 in men, if the waist is put midway between the
// lowest rib and the top of the hip bone. Girth, lengths and height of the waist all
// speak of that one level, so that a body of the survey is a whole body, with a low
// waist.
//
// Not in the set and therefore never given: shoulder_drop (the height of the root of
// the neck at the side was not taken), front_width, bust_point_distance, belly_girth,
// belly_height, waist_to_belly, elbow_girth, knee_girth (a lower thigh was taken),
// all front and back arcs, and what only animals have. Those are estimated.
var Columns = []Column{
	{Measure: "stature", From: []string{"stature"}},
	{Measure: "head_girth", From: []string{"headcircumference"}},
	{Measure: "neck_base_girth", From: []string{"neckcircumferencebase"}},
	{Measure: "shoulder_length", From: []string{"shoulderlength"}},
	{Measure: "back_width", From: []string{"interscyei"}, Apart: "of the two widths the one between the folds of the armpits at the back"},
	{Measure: "bust_girth", From: []string{"chestcircumference"}},
	{Measure: "waist_girth", From: []string{"waistcircumference"}, Apart: "at the level of the navel"},
	{Measure: "hip_girth", From: []string{"buttockcircumference"}},
	{Measure: "back_waist_length", From: []string{"waistbacklength"}, Apart: "down to the level of the navel"},
	{Measure: "front_waist_length", From: []string{"waistfrontlengthsitting"}, Apart: "taken sitting, down to the level of the navel"},
	{Measure: "armscye_depth", From: []string{"cervicaleheight", "axillaheight"}, Apart: "a difference of heights, not along the back"},
	{Measure: "waist_to_hip", From: []string{"waistheightomphalion", "buttockheight"}, Apart: "a difference of heights; from the level of the navel"},
	{Measure: "upper_arm_girth", From: []string{"bicepscircumferenceflexed"}, Apart: "with the arm bent and tensed"},
	{Measure: "wrist_girth", From: []string{"wristcircumference"}},
	{Measure: "hand_girth", From: []string{"handcircumference"}},
	{Measure: "arm_length", From: []string{"sleeveoutseam"}, Apart: "the arm straight"},
	{Measure: "neck_height", From: []string{"cervicaleheight"}},
	{Measure: "bust_height", From: []string{"chestheight"}},
	{Measure: "waist_height", From: []string{"waistheightomphalion"}, Apart: "of the navel"},
	{Measure: "hip_height", From: []string{"buttockheight"}},
	{Measure: "inside_leg", From: []string{"crotchheight"}},
	{Measure: "thigh_girth", From: []string{"thighcircumference"}},
	{Measure: "ankle_girth", From: []string{"anklecircumference"}},
	{Measure: "heel_girth", From: []string{"heelanklecircumference"}},
	{Measure: "foot_length", From: []string{"footlength"}},
}

// AnsurRows is the number of bodies in the file that Ansur reads: every other row of
// the survey, women and men.
const AnsurRows = 3034

// Person is a body of the survey.
type Person struct {
	// Sex is "F" or "M".
	Sex string
	// Given are the measures of Columns.
	Given body.Given
	// Raw are the columns that Columns names, in mm.
	Raw map[string]float64
}

// People returns all bodies of the survey's file, which lies beside the project
// where it is developed. Where it is missing the test is skipped with a reason.
func People(tb testing.TB) []Person {
	tb.Helper()
	path, err := beside("shared", "data", "ansur2_half.csv")
	if err != nil {
		tb.Fatal(err)
	}
	text, err := os.ReadFile(path)
	if errors.Is(err, fs.ErrNotExist) {
		tb.Skip("the ANSUR II survey does not lie beside the project; Sample has some of its bodies")
	}
	if err != nil {
		tb.Fatal(err)
	}
	people, err := readPeople(bytes.NewReader(text))
	if err != nil {
		tb.Fatalf("%s: %v", filepath.Base(path), err)
	}
	if len(people) != AnsurRows {
		tb.Fatalf("%s holds %d bodies, not %d", filepath.Base(path), len(people), AnsurRows)
	}
	return people
}

// Ansur returns the measures of all bodies of the survey, as People does.
func Ansur(tb testing.TB) []body.Given {
	tb.Helper()
	return givens(People(tb))
}

// sample is a choice of rows and columns of the survey.
//
//go:embed testdata/ansur-sample.csv
var sample []byte

// SamplePeople returns the bodies of the survey that are kept with the project:
// middling ones, and those with the largest and smallest measures and proportions.
func SamplePeople(tb testing.TB) []Person {
	tb.Helper()
	people, err := readPeople(bytes.NewReader(sample))
	if err != nil {
		tb.Fatalf("ansur-sample.csv: %v", err)
	}
	return people
}

// Sample returns the measures of SamplePeople.
func Sample(tb testing.TB) []body.Given {
	tb.Helper()
	return givens(SamplePeople(tb))
}

func givens(people []Person) []body.Given {
	g := make([]body.Given, len(people))
	for i, p := range people {
		g[i] = p.Given
	}
	return g
}

// beside returns the path of something that lies in the folder that holds the
// project's own.
func beside(path ...string) (string, error) {
	dir, err := os.Getwd()
	if err != nil {
		return "", err
	}
	for {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			return filepath.Join(append([]string{filepath.Dir(dir)}, path...)...), nil
		}
		up := filepath.Dir(dir)
		if up == dir {
			return "", errors.New("no go.mod above the folder of the test")
		}
		dir = up
	}
}

// readPeople reads rows of the survey with a line of column names above them. Lines
// that begin with # are remarks.
func readPeople(in io.Reader) ([]Person, error) {
	r := csv.NewReader(in)
	r.Comment = '#'
	r.ReuseRecord = true
	head, err := r.Read()
	if err != nil {
		return nil, err
	}
	at := map[string]int{}
	for i, name := range head {
		at[name] = i
	}
	var people []Person
	for {
		row, err := r.Read()
		if err == io.EOF {
			return people, nil
		}
		if err != nil {
			return nil, err
		}
		p, err := readPerson(row, at)
		if err != nil {
			return nil, fmt.Errorf("row %d: %w", len(people)+1, err)
		}
		people = append(people, p)
	}
}

func readPerson(row []string, at map[string]int) (Person, error) {
	p := Person{Given: body.Given{}, Raw: map[string]float64{}}
	i, ok := at["sex"]
	if !ok {
		return p, errors.New("no column sex")
	}
	p.Sex = row[i]
	for _, c := range Columns {
		for k, name := range c.From {
			i, ok := at[name]
			if !ok {
				return p, fmt.Errorf("no column %s", name)
			}
			v, err := strconv.ParseFloat(row[i], 64)
			if err != nil {
				return p, fmt.Errorf("column %s: %w", name, err)
			}
			p.Raw[name] = v
			if k == 0 {
				p.Given[c.Measure] = v
			} else {
				p.Given[c.Measure] -= v
			}
		}
	}
	return p, nil
}
