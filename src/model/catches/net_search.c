/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Search with bounded room: the variables in order; a state is what the frontier (variables done
 * that still meet some not done) has chosen, with the least excess over the bound that leads there.
 */
#include "net_internal.h"

#include <stdlib.h>
#include <string.h>

enum {
    FRONTIER_MAX = 120,
    ROOM_MAX = 1 << 19 /* partial answers in hand at once, kept or not: some 70 MB */
};

struct states {
    int count;
    int64_t *excess;
    uint32_t *from;   /* index of the state in the layer before */
    uint8_t *value;   /* rank-free value of the layer's variable */
    uint8_t *choice;  /* FRONTIER_MAX a state */
};

struct layer {
    uint32_t *from;
    uint8_t *value;
};

struct search {
    const struct problem *problem;
    struct arena *arena;
    int keep;             /* states kept a layer */
    int64_t excess_max;   /* only answers below this are of use */
    int64_t cut;          /* least excess thrown away for want of room */
    int *last;            /* last[var]: its latest neighbour, or itself */
    int frontier[FRONTIER_MAX];
    int nfrontier;
    struct states now, next;
    uint32_t *table;      /* hash of next's choices: index + 1 */
    size_t table_size;
    int64_t (*order)[2];
    struct layer *layer;
};

static uint64_t hash_bytes(const uint8_t *bytes, int n)
{
    uint64_t hash = 1469598103934665603u;

    for (int i = 0; i < n; i++)
        hash = (hash ^ bytes[i]) * 1099511628211u;
    return hash ^ hash >> 29;
}

/* Keep the better of two ways to one frontier. */
static void offer(struct search *search, const uint8_t *choice, int nchoice, int64_t excess,
                  uint32_t from, int value)
{
    struct states *next = &search->next;
    size_t slot = hash_bytes(choice, nchoice) & (search->table_size - 1);
    uint32_t index;

    for (; (index = search->table[slot]) != 0; slot = (slot + 1) & (search->table_size - 1))
        if (memcmp(next->choice + (size_t)(index - 1) * FRONTIER_MAX, choice, (size_t)nchoice) == 0) {
            if (excess >= next->excess[index - 1])
                return;
            index--;
            next->excess[index] = excess;
            next->from[index] = from;
            next->value[index] = (uint8_t)value;
            return;
        }
    index = (uint32_t)next->count++;
    search->table[slot] = index + 1;
    next->excess[index] = excess;
    next->from[index] = from;
    next->value[index] = (uint8_t)value;
    memcpy(next->choice + (size_t)index * FRONTIER_MAX, choice, (size_t)nchoice);
}

static int compare_order(const void *a, const void *b)
{
    const int64_t *x = a, *y = b;

    if (x[0] != y[0])
        return x[0] < y[0] ? -1 : 1;
    return (x[1] > y[1]) - (x[1] < y[1]);
}

/* The best `keep` go on, in order of excess; the best of the others is what the proof lacks. */
static void keep_best(struct search *search, int var)
{
    struct states *now = &search->now, *next = &search->next;
    int n = next->count;
    struct layer *layer = &search->layer[var];

    for (int i = 0; i < n; i++) {
        search->order[i][0] = next->excess[i];
        search->order[i][1] = i;
    }
    qsort(search->order, (size_t)n, sizeof *search->order, compare_order);
    now->count = n < search->keep ? n : search->keep;
    if (n > search->keep && search->order[search->keep][0] < search->cut)
        search->cut = search->order[search->keep][0];
    layer->from = arena_alloc(search->arena, (size_t)now->count, sizeof *layer->from);
    layer->value = arena_alloc(search->arena, (size_t)now->count, 1);
    for (int i = 0; i < now->count; i++) {
        size_t k = (size_t)search->order[i][1];

        now->excess[i] = next->excess[k];
        layer->from[i] = next->from[k];
        layer->value[i] = next->value[k];
        memcpy(now->choice + (size_t)i * FRONTIER_MAX, next->choice + k * FRONTIER_MAX,
               (size_t)search->nfrontier);
    }
    memset(search->table, 0, search->table_size * sizeof *search->table);
    next->count = 0;
}

/* What meets var behind it: place in the frontier, and the excess of each pair,
 * excess[own * others + other]. */
struct behind {
    int place;
    int others;
    int64_t *excess;
};

static int64_t least_of(const int64_t *cost, int n)
{
    int64_t least = cost[0];

    for (int i = 1; i < n; i++)
        least = cost[i] < least ? cost[i] : least;
    return least;
}

static void read_behind(const struct search *search, int var, const struct net_neighbour *to,
                        int place, struct behind *behind)
{
    int own = search->problem->nvalues[var], others = search->problem->nvalues[to->var];
    const int64_t *unary = search->problem->unary[var], *other_unary = search->problem->unary[to->var];
    int64_t *excess = arena_alloc(search->arena, (size_t)own * (size_t)others, sizeof *excess), least;

    for (int x = 0; x < own; x++)
        for (int y = 0; y < others; y++)
            excess[x * others + y] =
                net_is_never(unary[x]) || net_is_never(other_unary[y]) ? NET_NEVER
                                                                        : net_through(to, x, y);
    least = least_of(excess, own * others);
    for (int i = 0; i < own * others; i++)
        excess[i] -= least;
    *behind = (struct behind){place, others, excess};
}

static int list_behind(const struct search *search, int var, struct behind *behind)
{
    const struct problem *problem = search->problem;
    int n = 0;

    for (int k = 0; k < problem->degree[var]; k++) {
        const struct net_neighbour *to = &problem->neighbour[var][k];

        for (int i = 0; i < search->nfrontier && to->var < var; i++)
            if (search->frontier[i] == to->var)
                read_behind(search, var, to, i, &behind[n++]);
    }
    return n;
}

/* One variable more: every state with every value. */
static bool advance(struct search *search, int var)
{
    const struct problem *problem = search->problem;
    struct behind *behind =
        arena_alloc(search->arena, (size_t)problem->degree[var] + 1, sizeof *behind);
    int nbehind = list_behind(search, var, behind);
    int stay[FRONTIER_MAX], nstay = 0;
    int64_t least = least_of(problem->unary[var], problem->nvalues[var]);
    bool var_stays = search->last[var] > var;

    for (int i = 0; i < search->nfrontier; i++)
        if (search->last[search->frontier[i]] > var)
            stay[nstay++] = i;
    if (nstay + var_stays > FRONTIER_MAX)
        return false;
    for (int s = 0; s < search->now.count; s++) {
        const uint8_t *choice = search->now.choice + (size_t)s * FRONTIER_MAX;
        uint8_t made[FRONTIER_MAX];

        for (int i = 0; i < nstay; i++)
            made[i] = choice[stay[i]];
        for (int x = 0; x < problem->nvalues[var]; x++) {
            int64_t excess = search->now.excess[s] + problem->unary[var][x] - least;

            for (int b = 0; b < nbehind && excess < search->excess_max; b++)
                excess += behind[b].excess[x * behind[b].others + choice[behind[b].place]];
            if (excess >= search->excess_max)
                continue;
            if (var_stays)
                made[nstay] = (uint8_t)x;
            offer(search, made, nstay + var_stays, excess, (uint32_t)s, x);
        }
    }
    for (int i = 0; i < nstay; i++)
        search->frontier[i] = search->frontier[stay[i]];
    search->nfrontier = nstay;
    if (var_stays)
        search->frontier[search->nfrontier++] = var;
    keep_best(search, var);
    return search->now.count > 0;
}

static void make_room(struct search *search, int nvalues_max)
{
    size_t room = (size_t)search->keep * (size_t)nvalues_max;
    struct states *now = &search->now, *next = &search->next;

    for (search->table_size = 64; search->table_size < 2 * room;)
        search->table_size *= 2;
    search->table = arena_alloc(search->arena, search->table_size, sizeof *search->table);
    search->order = arena_alloc(search->arena, room, sizeof *search->order);
    now->excess = arena_alloc(search->arena, (size_t)search->keep, sizeof *now->excess);
    now->choice = arena_alloc(search->arena, (size_t)search->keep, FRONTIER_MAX);
    next->excess = arena_alloc(search->arena, room, sizeof *next->excess);
    next->from = arena_alloc(search->arena, room, sizeof *next->from);
    next->value = arena_alloc(search->arena, room, 1);
    next->choice = arena_alloc(search->arena, room, FRONTIER_MAX);
}

static void trace(const struct search *search, int *value)
{
    uint32_t at = 0; /* states are in order of excess */

    for (int v = search->problem->nvars - 1; v >= 0; v--) {
        value[v] = search->layer[v].value[at];
        at = search->layer[v].from[at];
    }
}

bool net_search(const struct problem *problem, int keep, int64_t excess_max, int *value, int64_t *cut)
{
    struct search search = {.problem = problem, .keep = keep, .excess_max = excess_max,
                            .cut = NET_NEVER};
    int nvalues_max = 1;
    bool found = true;

    search.arena = arena_branch(problem->arena);
    search.last = arena_alloc(search.arena, (size_t)problem->nvars, sizeof *search.last);
    search.layer = arena_alloc(search.arena, (size_t)problem->nvars, sizeof *search.layer);
    for (int v = 0; v < problem->nvars; v++) {
        search.last[v] = v;
        for (int k = 0; k < problem->degree[v]; k++)
            if (problem->neighbour[v][k].var > search.last[v])
                search.last[v] = problem->neighbour[v][k].var;
        if (problem->nvalues[v] > nvalues_max)
            nvalues_max = problem->nvalues[v];
    }
    if (search.keep > ROOM_MAX / nvalues_max)
        search.keep = ROOM_MAX / nvalues_max;
    make_room(&search, nvalues_max);
    search.now.count = 1;
    for (int v = 0; v < problem->nvars && found; v++)
        found = advance(&search, v);
    if (found)
        trace(&search, value);
    else if (search.nfrontier >= FRONTIER_MAX)
        search.cut = 0; /* too wide a frontier: nothing is proven */
    *cut = search.cut;
    arena_destroy(search.arena);
    return found;
}
