package draft

import (
	"context"
	"slices"
)

// FitTrial does an act as Named.DoText does, but works out first, with progress and so that
// it can be broken off, what the act asks of the fits of the project: a pattern of many
// pieces takes seconds. progress is told the share that is done, from 0 to 1, and may be
// nil. Where the context ends first, its error is returned.
func FitTrial(ctx context.Context, p *Project, act Named, args map[string]string, progress func(share float64)) (Outcome, error) {
	if err := act.ahead(ctx, p, args, progress); err != nil {
		return Outcome{}, err
	}
	return act.DoText(p, args)
}

// ahead implements Named: it solves the fits that the act makes or changes, so that they are
// at hand when it is done. What stands against the act itself is told when it is done.
func (a *Act[A]) ahead(ctx context.Context, p *Project, texts map[string]string, progress func(share float64)) error {
	args, err := readArgs[A](p, a.params, texts)
	if err != nil {
		return a.wrap(err)
	}
	if fit, ok := any(&args).(*FitPatternArgs); ok {
		fit.PlanOnly = true
	}
	out, err := a.do(p, args)
	if err != nil {
		return nil
	}
	tasks := out.Project.keepSources(p, out.easesSaid).fitTasks()
	tasks = slices.DeleteFunc(tasks, func(t *fitTask) bool { return recentFit(t) != nil })
	for k, task := range tasks {
		fittedFor(ctx, task, func(share float64) {
			if progress != nil {
				progress((float64(k) + share) / float64(len(tasks)))
			}
		})
		if err := ctx.Err(); err != nil {
			return err
		}
	}
	return nil
}

// fitTasks lists what the fits of a project are solved from.
func (p *Project) fitTasks() []*fitTask {
	var list []*fitTask
	for _, d := range p.Derivations {
		if d.Kind == fitKind {
			list = append(list, p.fitTaskOf(d))
		}
	}
	return list
}
