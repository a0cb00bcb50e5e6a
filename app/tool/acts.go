package tool

import "hemlet/draft"

// CuttingTable lists the acts of the cutting table in the order of work.
func CuttingTable() []*Asked { return []*Asked{} }

// ActGroup is a heading and the acts under it.
type ActGroup struct {
	Name string
	Acts []*Asked
}

// ActGroups lists every act that can be done by hand, by heading in the order of work:
// first those of the cutting table, then what else there is.
func ActGroups() []ActGroup {
	declared := CuttingTable()
	groups := []ActGroup{{"Cutting table", declared}}
	had := map[string]bool{}
	for _, a := range declared {
		had[a.Act.Info().Name] = true
	}
	at := map[string]int{"Cutting table": 0}
	for _, act := range draft.Acts() {
		info := act.Info()
		if had[info.Name] {
			continue
		}
		i, ok := at[info.Group]
		if !ok {
			i = len(groups)
			at[info.Group] = i
			groups = append(groups, ActGroup{Name: info.Group})
		}
		groups[i].Acts = append(groups[i].Acts, ByKinds(act))
	}
	return groups
}
