/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A lower bound by message passing: costs are moved from ties to values and back, in the order of
 * the variables and against it, so that the smallest entries sum to as much as possible.
 *
 * Any such move keeps the cost of every answer, so the bound holds whatever the passes do; whole
 * numbers only, so it is the same everywhere. (Sequential tree-reweighted message passing.)
 */
#include "net_internal.h"

/* What the neighbour's values have got from the tie already, taken off: pair (own, y) costs
 * cost + left[y] - own_given. */
struct leavings {
    int n, best; /* best: the least of left[] */
    int64_t left[NET_VALUES_MAX];
};

static void read_leavings(const struct problem *problem, const struct net_neighbour *to,
                          struct leavings *leavings)
{
    const int64_t *unary = problem->unary[to->var];
    int64_t *left = leavings->left;

    leavings->n = problem->nvalues[to->var];
    leavings->best = 0;
    for (int y = 0; y < leavings->n; y++) {
        left[y] = net_is_never(unary[y]) ? NET_NEVER : -to->other_given[y];
        if (left[y] < left[leavings->best])
            leavings->best = y;
    }
}

/* The least a pair with that value costs: mostly the pair costs nothing itself, and the least of
 * what is left decides. */
static int64_t least_pair(const struct leavings *leavings, const int64_t *cost, int step)
{
    int64_t least = leavings->left[leavings->best];

    if (cost[leavings->best * step] == 0)
        return least;
    least = NET_NEVER;
    for (int y = 0; y < leavings->n; y++) {
        int64_t one = cost[y * step] + leavings->left[y];

        least = one < least ? one : least;
    }
    return least;
}

/* Everything the tie can give goes to the values of `var`. */
static void pull(const struct problem *problem, int var, const struct net_neighbour *to)
{
    int64_t *unary = problem->unary[var];
    struct leavings leavings;

    read_leavings(problem, to, &leavings);
    for (int x = 0; x < problem->nvalues[var]; x++) {
        int64_t least;

        if (net_is_never(unary[x]))
            continue;
        least = least_pair(&leavings, to->cost + x * to->own_step, to->other_step);
        if (net_is_never(least)) {
            unary[x] = NET_NEVER; /* no neighbour goes with it */
            continue;
        }
        least -= to->own_given[x];
        unary[x] += least;
        to->own_given[x] += least;
    }
}

/* Since it was last here going the other way, only the ties behind have got anything to give; the
 * first time all have. */
static void visit(struct problem *problem, int var, bool forward, bool first)
{
    int64_t share[NET_VALUES_MAX], least = INT64_MAX, *unary = problem->unary[var];
    int n = problem->nvalues[var], ahead = 0, behind = 0, shares;

    for (int k = 0; k < problem->degree[var]; k++) {
        const struct net_neighbour *to = &problem->neighbour[var][k];

        bool is_ahead = (to->var > var) == forward;

        if (!is_ahead || first)
            pull(problem, var, to);
        ahead += is_ahead;
        behind += !is_ahead;
    }
    shares = ahead > behind ? ahead : behind;
    if (ahead == 0)
        return;
    for (int x = 0; x < n; x++)
        least = unary[x] < least ? unary[x] : least;
    for (int x = 0; x < n; x++) {
        share[x] = unary[x] >= NET_NEVER / 2 ? 0 : (unary[x] - least) / shares;
        unary[x] -= share[x] * ahead;
    }
    for (int k = 0; k < problem->degree[var]; k++) {
        const struct net_neighbour *to = &problem->neighbour[var][k];

        for (int x = 0; (to->var > var) == forward && x < n; x++)
            to->own_given[x] -= share[x]; /* the share of each value's excess goes ahead */
    }
}

void net_bound(struct problem *problem, int passes)
{
    for (int pass = 0; pass < passes; pass++) {
        for (int v = 0; v < problem->nvars; v++)
            visit(problem, v, true, pass == 0);
        for (int v = problem->nvars - 1; v >= 0; v--)
            visit(problem, v, false, false);
    }
}
