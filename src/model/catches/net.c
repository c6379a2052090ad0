/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "net_internal.h"

#include <string.h>

#include "base/work.h"

/* --- how hard to try on a piece too wide for elimination ------------------------------------- */

enum {
    PASSES_EACH = 60,    /* of message passing between two searches */
    KEEP_FIRST = 30,    /* partial answers kept by the first search */
    SEARCH_STEPS = 20,  /* of one partial answer with one value */
    DEPTH_MAX = 12
};

struct outcome {
    int *value;
    int64_t cost, bound;
};

struct solver {
    const struct net_effort *effort;
    struct arena *arena;
    int64_t steps; /* left */
};

static void solve(struct solver *solver, struct problem *problem, int depth, struct outcome *outcome);

static void take(const struct problem *problem, const int *value, struct outcome *outcome)
{
    int64_t cost = problem_cost(problem, value);

    if (cost >= outcome->cost)
        return;
    outcome->cost = cost;
    memcpy(outcome->value, value, (size_t)problem->nvars * sizeof *value);
}

/* What could be better than the answer at hand is better by a granule at least. */
static void raise_bound(const struct solver *solver, int64_t bound, struct outcome *outcome)
{
    if (outcome->cost - bound < solver->effort->granule)
        bound = outcome->cost;
    if (bound > outcome->bound)
        outcome->bound = bound;
}

/* What is left once all that cannot be in a better answer is struck out, solved afresh. */
static void narrow(struct solver *solver, struct problem *problem, int depth, struct outcome *outcome)
{
    struct outcome inner = {.cost = NET_NEVER};

    inner.value = arena_alloc(problem->arena, (size_t)problem->nvars, sizeof *inner.value);
    solve(solver, problem, depth + 1, &inner);
    take(problem, inner.value, outcome);
    raise_bound(solver, inner.bound, outcome);
}

static int count_values(const struct problem *problem)
{
    int n = 0;

    for (int v = 0; v < problem->nvars; v++)
        n += problem->nvalues[v];
    return n;
}

/* Steps of one pass of message passing, there and back. */
static int64_t steps_of_pass(const struct problem *problem)
{
    int64_t steps = 0;

    for (int i = 0; i < problem->nties; i++)
        steps += 4 * (problem->nvalues[problem->ties[i].a] + problem->nvalues[problem->ties[i].b]);
    return steps;
}

/* Elimination with all the room there is. */
static void last_resort(struct solver *solver, struct problem *problem, struct outcome *outcome)
{
    int *value = arena_alloc(problem->arena, (size_t)problem->nvars, sizeof *value);

    if (!net_eliminate(problem, solver->effort->cells_last, value))
        return;
    take(problem, value, outcome);
    outcome->bound = outcome->cost;
}

/* Bound, search, strike out what the gap between the two rules out; again with more room. */
static void solve_wide(struct solver *solver, struct problem *problem, int depth,
                       struct outcome *outcome)
{
    const struct net_effort *effort = solver->effort;
    int *value = arena_alloc(problem->arena, (size_t)problem->nvars, sizeof *value);
    int passes = 0, nvalues = count_values(problem);
    int keep = KEEP_FIRST < effort->states ? KEEP_FIRST : effort->states;

    while (outcome->bound < outcome->cost) {
        int64_t bound, gap, cut; /* gap: a better answer has at most that excess */
        int struck;
        bool more = solver->steps > 0 && (passes < effort->passes || keep < effort->states);

        if (passes < effort->passes) {
            net_bound(problem, PASSES_EACH);
            solver->steps -= PASSES_EACH * steps_of_pass(problem);
        }
        passes += PASSES_EACH;
        solver->steps -= (int64_t)keep * nvalues * SEARCH_STEPS;
        bound = problem_bound(problem);
        gap = outcome->cost - bound - effort->granule;
        if (gap >= 0 && net_search(problem, keep, gap + 1, value, &cut))
            take(problem, value, outcome);
        raise_bound(solver, gap >= 0 && cut <= gap ? bound + cut : outcome->cost, outcome);
        if (outcome->bound == outcome->cost)
            return;
        if (!more) {
            if (solver->steps > 0)
                last_resort(solver, problem, outcome);
            return;
        }
        struck = problem_strike(problem, outcome->cost - problem_bound(problem) - effort->granule);
        if (struck < 0) {
            outcome->bound = outcome->cost;
            return;
        }
        if (depth < DEPTH_MAX && struck > nvalues / 16) {
            narrow(solver, problem, depth, outcome);
            return;
        }
        if (passes >= effort->passes || keep < 400)
            keep = keep * 3 < effort->states ? keep * 3 : effort->states;
    }
}

static void solve_piece(struct solver *solver, struct problem *problem, int depth,
                        struct outcome *outcome)
{
    int *value = arena_alloc(problem->arena, (size_t)problem->nvars, sizeof *value);

    if (net_eliminate(problem, solver->effort->cells, value)) {
        take(problem, value, outcome);
        outcome->bound = outcome->cost;
    } else {
        solve_wide(solver, problem, depth, outcome);
    }
}

/* Reduce, fall into pieces, solve each. */
static void solve(struct solver *solver, struct problem *problem, int depth, struct outcome *outcome)
{
    struct arena *arena = problem->arena;
    int *settled = arena_alloc(arena, (size_t)problem->nvars, sizeof *settled);
    struct sub_problem *subs;
    int64_t constant;
    int n;

    net_reduce(problem, &solver->steps);
    n = problem_split(problem, arena, &subs, settled, &constant);
    outcome->bound = constant;
    memcpy(outcome->value, settled, (size_t)problem->nvars * sizeof *settled);
    for (int i = 0; i < n; i++) {
        struct problem *piece = &subs[i].problem;
        struct outcome one = {.cost = NET_NEVER};

        one.value = arena_alloc(arena, (size_t)piece->nvars, sizeof *one.value);
        solve_piece(solver, piece, depth, &one);
        outcome->bound = outcome->bound + one.bound > NET_NEVER ? NET_NEVER
                                                                : outcome->bound + one.bound;
        for (int v = 0; v < piece->nvars; v++)
            outcome->value[subs[i].var[v]] = subs[i].value[v][one.value[v]];
    }
    outcome->cost = problem_cost(problem, outcome->value);
}

void net_solve(struct work *work, const struct net *net, const struct net_effort *effort,
               struct net_answer *answer)
{
    struct solver solver = {
        .effort = effort, .arena = arena_branch(work->arena), .steps = effort->steps};
    struct outcome outcome = {0};
    struct problem problem;

    outcome.value = arena_alloc(work->arena, (size_t)net->nvars, sizeof *outcome.value);
    problem_create(&problem, solver.arena, net);
    solve(&solver, &problem, 0, &outcome);
    *answer = (struct net_answer){outcome.value, outcome.cost, outcome.bound,
                                  outcome.bound == outcome.cost};
    arena_destroy(solver.arena);
}
