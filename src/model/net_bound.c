/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A lower bound by message passing: costs are moved from links to values and back, in the order of
 * the variables and against it, so that the smallest entries sum to as much as possible.
 *
 * Any such move keeps the cost of every answer, so the bound holds whatever the passes do; whole
 * numbers only, so it is the same everywhere. (Sequential tree-reweighted message passing.)
 */
#include "net_internal.h"

/* Everything the link can give goes to the values of `var`. */
static void pull(int64_t *unary, int nown, int nother, const struct net_neighbour *to)
{
    for (int x = 0; x < nown; x++) {
        int64_t *cost = to->cost + x * to->own_step;
        int64_t least = INT64_MAX;

        for (int y = 0; y < nother; y++)
            least = cost[y * to->other_step] < least ? cost[y * to->other_step] : least;
        if (least == 0)
            continue;
        unary[x] = unary[x] + least > NET_NEVER ? NET_NEVER : unary[x] + least;
        if (least >= NET_NEVER / 2)
            continue; /* no neighbour goes with it: the link stays as it is */
        for (int y = 0; y < nother; y++)
            if (cost[y * to->other_step] < NET_NEVER / 2)
                cost[y * to->other_step] -= least;
    }
}

/* The share of each value's excess goes to the link ahead. */
static void push(int nown, int nother, const struct net_neighbour *to, const int64_t *share)
{
    for (int x = 0; x < nown; x++) {
        int64_t *cost = to->cost + x * to->own_step;

        for (int y = 0; y < nother && share[x] != 0; y++)
            if (cost[y * to->other_step] < NET_NEVER / 2)
                cost[y * to->other_step] += share[x];
    }
}

static void visit(struct problem *problem, int var, bool forward)
{
    int64_t share[NET_VALUES_MAX], least = INT64_MAX, *unary = problem->unary[var];
    int n = problem->nvalues[var], ahead = 0, behind = 0, shares;

    for (int k = 0; k < problem->degree[var]; k++) {
        const struct net_neighbour *to = &problem->neighbour[var][k];

        pull(unary, n, problem->nvalues[to->var], to);
        if ((to->var > var) == forward)
            ahead++;
        else
            behind++;
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

        if ((to->var > var) == forward)
            push(n, problem->nvalues[to->var], to, share);
    }
}

void net_bound(struct problem *problem, int passes)
{
    for (int pass = 0; pass < passes; pass++) {
        for (int v = 0; v < problem->nvars; v++)
            visit(problem, v, true);
        for (int v = problem->nvars - 1; v >= 0; v--)
            visit(problem, v, false);
    }
}
