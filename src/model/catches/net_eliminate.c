/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Exact solution by elimination: one variable at a time is taken out, the best it can do for each
 * choice of its neighbours kept in a table. The order takes next what makes the smallest table.
 */
#include "net_internal.h"

#include <string.h>

/* A table over some variables, row-major, the last changing fastest. */
struct factor {
    int nvars;
    int *var;
    int64_t *cost;
    bool used;      /* taken into a later table */
};

struct step {
    int var;
    int nvars;      /* neighbours at that time */
    int *around;
    uint8_t *best;  /* best[index of the neighbours' values]: value */
};

struct elimination {
    const struct problem *problem;
    struct arena *arena;
    int nfactors, factor_room;
    struct factor *factor;
    int **at;              /* at[var]: factors that hold var */
    int *nat, *at_room;
    bool *gone;
};

/* --- order ------------------------------------------------------------------------------- */

struct order {
    int n;
    int *list;
    int64_t cells;  /* of all tables */
};

struct graph {
    int n;
    uint64_t *bits; /* n rows of words */
    int words;
};

static bool linked(const struct graph *graph, int a, int b)
{
    return graph->bits[(size_t)a * (size_t)graph->words + (size_t)(b >> 6)] >> (b & 63) & 1;
}

static void link_up(struct graph *graph, int a, int b)
{
    graph->bits[(size_t)a * (size_t)graph->words + (size_t)(b >> 6)] |= (uint64_t)1 << (b & 63);
    graph->bits[(size_t)b * (size_t)graph->words + (size_t)(a >> 6)] |= (uint64_t)1 << (a & 63);
}

static void unlink_all(struct graph *graph, int a)
{
    for (int b = 0; b < graph->n; b++)
        if (linked(graph, a, b)) {
            graph->bits[(size_t)a * (size_t)graph->words + (size_t)(b >> 6)] &=
                ~((uint64_t)1 << (b & 63));
            graph->bits[(size_t)b * (size_t)graph->words + (size_t)(a >> 6)] &=
                ~((uint64_t)1 << (a & 63));
        }
}

static int list_linked(const struct graph *graph, int a, int *list)
{
    int n = 0;
    const uint64_t *row = graph->bits + (size_t)a * (size_t)graph->words;

    for (int w = 0; w < graph->words; w++)
        for (uint64_t bits = row[w]; bits; bits &= bits - 1)
            list[n++] = w * 64 + __builtin_ctzll(bits);
    return n;
}

static int64_t product_of_values(const struct problem *problem, const int *list, int n, int64_t most)
{
    int64_t cells = 1;

    for (int i = 0; i < n; i++) {
        cells *= problem->nvalues[list[i]];
        if (cells > most)
            return most + 1;
    }
    return cells;
}

static bool find_order(const struct problem *problem, struct arena *arena, int64_t cells_max,
                       struct order *order)
{
    struct graph graph = {.n = problem->nvars, .words = (problem->nvars + 63) / 64};
    /* the neighbours of one variable, and behind them those of a neighbour */
    int *list = arena_alloc(arena, 2 * (size_t)problem->nvars, sizeof *list);
    int64_t *weight = arena_alloc(arena, (size_t)problem->nvars, sizeof *weight);
    bool *gone = arena_alloc(arena, (size_t)problem->nvars, sizeof *gone);

    graph.bits = arena_alloc(arena, (size_t)problem->nvars * (size_t)graph.words, sizeof *graph.bits);
    order->list = arena_alloc(arena, (size_t)problem->nvars, sizeof *order->list);
    order->n = 0;
    order->cells = 0;
    for (int i = 0; i < problem->nties; i++)
        link_up(&graph, problem->ties[i].a, problem->ties[i].b);
    for (int v = 0; v < problem->nvars; v++) {
        int n = list_linked(&graph, v, list);

        weight[v] = product_of_values(problem, list, n, cells_max);
    }
    while (order->n < problem->nvars) {
        int best = -1, n;

        for (int v = 0; v < problem->nvars; v++)
            if (!gone[v] && (best < 0 || weight[v] < weight[best]))
                best = v;
        n = list_linked(&graph, best, list);
        order->cells += weight[best];
        if (weight[best] > cells_max || order->cells > cells_max)
            return false;
        order->list[order->n++] = best;
        gone[best] = true;
        unlink_all(&graph, best);
        for (int i = 0; i < n; i++)
            for (int k = 0; k < i; k++)
                link_up(&graph, list[i], list[k]);
        for (int i = 0; i < n; i++) {
            int *around = list + n;
            int m = list_linked(&graph, list[i], around);

            weight[list[i]] = product_of_values(problem, around, m, cells_max);
        }
    }
    return true;
}

/* --- tables ------------------------------------------------------------------------------- */

static void add_factor(struct elimination *work, struct factor factor)
{
    if (work->nfactors == work->factor_room) {
        int room = work->factor_room ? 2 * work->factor_room : 64;

        work->factor = arena_grow(work->arena, work->factor, (size_t)work->factor_room, (size_t)room,
                                  sizeof *work->factor);
        work->factor_room = room;
    }
    for (int i = 0; i < factor.nvars; i++) {
        int v = factor.var[i];

        if (work->nat[v] == work->at_room[v]) {
            int room = work->at_room[v] ? 2 * work->at_room[v] : 8;

            work->at[v] = arena_grow(work->arena, work->at[v], (size_t)work->at_room[v], (size_t)room,
                                     sizeof **work->at);
            work->at_room[v] = room;
        }
        work->at[v][work->nat[v]++] = work->nfactors;
    }
    work->factor[work->nfactors++] = factor;
}

static void add_first_factors(struct elimination *work)
{
    const struct problem *problem = work->problem;

    for (int v = 0; v < problem->nvars; v++) {
        struct factor factor = {.nvars = 1, .cost = problem->unary[v]};

        factor.var = arena_alloc(work->arena, 1, sizeof *factor.var);
        factor.var[0] = v;
        add_factor(work, factor);
    }
    for (int i = 0; i < problem->nties; i++) {
        const struct net_tie *tie = &problem->ties[i];
        struct factor factor = {.nvars = 2, .cost = problem_tie_costs(problem, tie, work->arena)};

        factor.var = arena_alloc(work->arena, 2, sizeof *factor.var);
        factor.var[0] = tie->a;
        factor.var[1] = tie->b;
        add_factor(work, factor);
    }
}

static int find_in(const int *list, int n, int var)
{
    for (int i = 0; i < n; i++)
        if (list[i] == var)
            return i;
    return -1;
}

/* The neighbours of var in the tables that hold it. */
static int list_around(struct elimination *work, int var, int *around)
{
    int n = 0;

    for (int k = 0; k < work->nat[var]; k++) {
        const struct factor *factor = &work->factor[work->at[var][k]];

        if (factor->used)
            continue;
        for (int i = 0; i < factor->nvars; i++)
            if (factor->var[i] != var && find_in(around, n, factor->var[i]) < 0)
                around[n++] = factor->var[i];
    }
    return n;
}

struct part {
    const int64_t *cost;
    int64_t offset;
    int64_t own;       /* stride of the variable taken out */
    int64_t *stride;   /* by neighbour */
};

static int64_t saturate(int64_t cost)
{
    return cost > NET_NEVER ? NET_NEVER : cost;
}

static void take_out(struct elimination *work, int var, struct step *step)
{
    const struct problem *problem = work->problem;
    int n = step->nvars, nparts = 0;
    struct part *part = arena_alloc(work->arena, (size_t)work->nat[var], sizeof *part);
    int *digit = arena_alloc(work->arena, (size_t)n + 1, sizeof *digit);
    int64_t cells = 1;
    struct factor made = {.nvars = n, .var = step->around};

    for (int k = 0; k < work->nat[var]; k++) {
        struct factor *factor = &work->factor[work->at[var][k]];
        int64_t stride = 1;

        if (factor->used)
            continue;
        factor->used = true;
        part[nparts].cost = factor->cost;
        part[nparts].stride = arena_alloc(work->arena, (size_t)n + 1, sizeof(int64_t));
        for (int i = factor->nvars - 1; i >= 0; i--) {
            if (factor->var[i] == var)
                part[nparts].own = stride;
            else
                part[nparts].stride[find_in(step->around, n, factor->var[i])] = stride;
            stride *= problem->nvalues[factor->var[i]];
        }
        nparts++;
    }
    for (int i = 0; i < n; i++)
        cells *= problem->nvalues[step->around[i]];
    step->best = arena_alloc(work->arena, (size_t)cells, 1);
    made.cost = arena_alloc(work->arena, (size_t)cells, sizeof *made.cost);
    for (int64_t cell = 0; cell < cells; cell++) {
        int64_t best = INT64_MAX;
        int i;

        for (int value = 0; value < problem->nvalues[var]; value++) {
            int64_t sum = 0;

            for (int p = 0; p < nparts; p++)
                sum = saturate(sum + part[p].cost[part[p].offset + value * part[p].own]);
            if (sum < best) {
                best = sum;
                step->best[cell] = (uint8_t)value;
            }
        }
        made.cost[cell] = best;
        for (i = n - 1; i >= 0; i--) { /* the next choice of the neighbours */
            int carry = ++digit[i] == problem->nvalues[step->around[i]];

            for (int p = 0; p < nparts; p++)
                part[p].offset += carry ? -(digit[i] - 1) * part[p].stride[i] : part[p].stride[i];
            if (!carry)
                break;
            digit[i] = 0;
        }
    }
    if (n > 0)
        add_factor(work, made);
}

static void read_back(const struct problem *problem, const struct step *steps, int nsteps, int *value)
{
    for (int s = nsteps - 1; s >= 0; s--) {
        int64_t cell = 0;

        for (int i = 0; i < steps[s].nvars; i++)
            cell = cell * problem->nvalues[steps[s].around[i]] + value[steps[s].around[i]];
        value[steps[s].var] = steps[s].best[cell];
    }
}

bool net_eliminate(const struct problem *problem, int64_t cells, int *value)
{
    struct arena *arena = arena_branch(problem->arena);
    struct elimination work = {.problem = problem, .arena = arena};
    size_t n = (size_t)problem->nvars;
    struct step *steps = arena_alloc(arena, n, sizeof *steps);
    int *around = arena_alloc(arena, n, sizeof *around);
    struct order order;

    if (!find_order(problem, arena, cells, &order)) {
        arena_destroy(arena);
        return false;
    }
    work.at = arena_alloc(arena, n, sizeof *work.at);
    work.nat = arena_alloc(arena, n, sizeof *work.nat);
    work.at_room = arena_alloc(arena, n, sizeof *work.at_room);
    add_first_factors(&work);
    for (int i = 0; i < order.n; i++) {
        struct step *step = &steps[i];

        step->var = order.list[i];
        step->nvars = list_around(&work, step->var, around);
        step->around = arena_alloc(arena, (size_t)step->nvars, sizeof *step->around);
        memcpy(step->around, around, (size_t)step->nvars * sizeof *around);
        take_out(&work, step->var, step);
    }
    read_back(problem, steps, order.n, value);
    arena_destroy(arena);
    return true;
}
