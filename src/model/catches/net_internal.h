/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What the files of the network solver share.
 *
 * A problem is a network being narrowed: values are struck out; problem_split() then makes smaller
 * problems of what is left, with the values struck out gone. Only net_reduce(), problem_strike() and
 * problem_split() know of values struck out; the rest works on problems fresh from a split.
 */
#ifndef STRANDWISE_NET_INTERNAL_H
#define STRANDWISE_NET_INTERNAL_H

#include "base/arena.h"
#include "net.h"

/* A link being worked on: of its costs it has given some to the values of its ends. What a pair
 * costs is kept as it was (mostly noughts, which is worth knowing), less what was given. */
struct net_tie {
    int a, b;
    const int64_t *cost;       /* cost[value_a * nvalues[b] + value_b] */
    int64_t *given_a, *given_b;
};

/* A tie as one of its ends sees it: cost[own * own_step + other * other_step]. */
struct net_neighbour {
    int var; /* the other end */
    int own_step, other_step;
    const int64_t *cost;
    int64_t *own_given, *other_given;
};

static inline bool net_is_never(int64_t cost)
{
    return cost >= NET_NEVER / 2;
}

/* What a pair costs by that tie. */
static inline int64_t net_through(const struct net_neighbour *to, int own, int other)
{
    int64_t cost = to->cost[own * to->own_step + other * to->other_step];

    return net_is_never(cost) ? NET_NEVER : cost - to->own_given[own] - to->other_given[other];
}

struct problem {
    struct arena *arena;
    int nvars;
    int *nvalues;
    int64_t **unary;
    int nties;
    struct net_tie *ties;
    int *degree;
    struct net_neighbour **neighbour; /* by the other end, upwards */
    bool **out;                       /* out[var][value]: struck out */
    int *left;                        /* values left */
};

/* A piece of a problem that hangs together. */
struct sub_problem {
    struct problem problem;
    int *var;    /* the whole problem's variable */
    int **value; /* and its value, for each of ours */
};

void problem_create(struct problem *problem, struct arena *arena, const struct net *net);
int64_t problem_cost(const struct problem *problem, const int *value);

/* The costs of a tie as they stand, row by row, in memory from arena. */
int64_t *problem_tie_costs(const struct problem *problem, const struct net_tie *tie,
                           struct arena *arena);

/* The sum of all smallest entries: no answer costs less. */
int64_t problem_bound(const struct problem *problem);

/* Strike out values dearer than the cheapest of their variable by more than excess_max. How many;
 * -1: a variable has none left, so there is no such answer. */
int problem_strike(struct problem *problem, int64_t excess_max);

/* Variables with one value left are settled (settled[var] its value, else -1), links that tie nothing
 * dissolved; *subs: the pieces. Returned: how many; *constant: what the settled part costs. */
int problem_split(const struct problem *problem, struct arena *arena, struct sub_problem **subs,
                  int *settled, int64_t *constant);

/* Strike out values that some other value beats whatever the neighbours do (strictly, so that equal
 * answers stay). How many. *steps: what may be spent on it, taken off. */
int net_reduce(struct problem *problem, int64_t *steps);

/* By elimination, exactly; false if the tables would need more than `cells`. */
bool net_eliminate(const struct problem *problem, int64_t cells, int *value);

/* Move costs between links and values until their smallest ones sum to a good lower bound: passes of
 * message passing. The cost of every answer stays what it was. */
void net_bound(struct problem *problem, int passes);

/* Variable by variable, keeping at most `keep` partial answers whose excess over problem_bound() is
 * below excess_max. true: *value is an answer with less excess. *cut: the smallest excess thrown away
 * for want of room (NET_NEVER: none; then there is no better answer than the one found). */
bool net_search(const struct problem *problem, int keep, int64_t excess_max, int *value, int64_t *cut);

#endif
