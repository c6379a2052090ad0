/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A pairwise cost network: variables, each with a few values; a cost for each value and for
 * each pair of values of two linked variables; find the values of least total cost.
 *
 * Knows nothing of knitting. Narrow networks are solved by elimination, wide ones by a bounded
 * search between a lower bound and the best answer found; what was not proven is said.
 * Bounds are counts of work, never the clock: the same network gives the same answer.
 */
#ifndef STRANDWISE_NET_H
#define STRANDWISE_NET_H

#include <stdbool.h>
#include <stdint.h>

struct work;

enum { NET_VALUES_MAX = 250 };

/* A cost that may not be: larger than any sum of real costs (kept under NET_COST_MAX). */
static const int64_t NET_NEVER = (int64_t)1 << 61;
static const int64_t NET_COST_MAX = (int64_t)1 << 58;

struct net_link {
    int a, b;            /* a < b */
    int64_t *cost;       /* cost[value_a * nvalues[b] + value_b] >= 0 */
};

struct net {
    int nvars;
    const int *nvalues;     /* each >= 1 */
    int64_t *const *unary;  /* unary[var][value] >= 0 */
    int nlinks;
    struct net_link *links; /* no pair twice */
};

struct net_answer {
    int *value;      /* nvars: index of the value taken */
    int64_t cost;
    int64_t bound;   /* no answer costs less */
    bool proven;     /* cost == bound */
};

/* How hard to try: table cells of an elimination, states of a search. */
struct net_effort {
    int64_t cells;       /* at first, and when all else has failed */
    int64_t cells_last;
    int states;
    int passes;
    int64_t granule;     /* any two answers' costs differ by a multiple of it; at least 1 */
    int64_t steps;       /* of bounding and searching in all (each takes some nanoseconds); a piece
                            met when they are spent is still bounded and searched once */
};

/* Values are tried in order, so of equal answers the one found does not depend on anything else.
 * The answer's arrays lie in work's arena. */
void net_solve(struct work *work, const struct net *net, const struct net_effort *effort,
               struct net_answer *answer);

#endif
