/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Values that are never needed: another value of the same variable is cheaper whatever the
 * neighbours take. (Dominance, as in dead-end elimination.)
 */
#include "net_internal.h"

#include <string.h>

enum {
    COMPARED_MAX = 4000000, /* of one variable: with more it is left as it is */
    COMPARED_IN_STEP = 8
};

/* How much worse `value` is than `other` at least. */
static int64_t least_regret(const struct problem *problem, int var, int value, int other)
{
    int64_t regret = problem->unary[var][value] - problem->unary[var][other];

    for (int k = 0; k < problem->degree[var]; k++) {
        const struct net_neighbour *to = &problem->neighbour[var][k];
        const bool *out = problem->out[to->var];
        int64_t least = INT64_MAX;

        for (int x = 0; x < problem->nvalues[to->var]; x++) {
            int64_t worse = net_through(to, value, x) - net_through(to, other, x);

            if (!out[x] && worse < least)
                least = worse;
        }
        regret += least;
        if (regret < -NET_NEVER || regret > NET_NEVER)
            regret = regret < 0 ? -NET_NEVER : NET_NEVER;
    }
    return regret;
}

/* How many costs are compared to reduce a variable. */
static int64_t compared(const struct problem *problem, int var)
{
    int64_t values = problem->nvalues[var], others = 0;

    for (int k = 0; k < problem->degree[var]; k++)
        others += problem->nvalues[problem->neighbour[var][k].var];
    return values * values * others;
}

static int reduce_var(struct problem *problem, int var, int64_t *steps)
{
    int64_t costs = compared(problem, var);
    int struck = 0;

    if (costs > COMPARED_MAX || *steps <= 0)
        return 0;
    *steps -= costs / COMPARED_IN_STEP;
    for (int value = 0; value < problem->nvalues[var]; value++)
        for (int other = 0; other < problem->nvalues[var] && !problem->out[var][value]; other++) {
            if (other == value || problem->out[var][other] || problem->left[var] < 2 ||
                least_regret(problem, var, value, other) <= 0)
                continue;
            problem->out[var][value] = true;
            problem->left[var]--;
            struck++;
        }
    return struck;
}

int net_reduce(struct problem *problem, int64_t *steps)
{
    bool *look = arena_alloc(problem->arena, (size_t)problem->nvars, sizeof *look);
    int struck = 0;
    bool again = true;

    memset(look, true, (size_t)problem->nvars * sizeof *look);
    while (again) {
        again = false;
        for (int v = 0; v < problem->nvars; v++) {
            int now = look[v] && problem->left[v] > 1 ? reduce_var(problem, v, steps) : 0;

            look[v] = false;
            if (now == 0)
                continue;
            struck += now;
            again = true;
            look[v] = true;
            for (int k = 0; k < problem->degree[v]; k++)
                look[problem->neighbour[v][k].var] = true;
        }
    }
    return struck;
}
