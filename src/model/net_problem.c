/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "net_internal.h"

#include <string.h>

static void sort_neighbours(struct net_neighbour *list, int n)
{
    for (int i = 1; i < n; i++) { /* short lists: insertion */
        struct net_neighbour one = list[i];
        int k = i;

        for (; k > 0 && list[k - 1].var > one.var; k--)
            list[k] = list[k - 1];
        list[k] = one;
    }
}

/* Neighbour lists from the links. */
static void problem_tie(struct problem *problem)
{
    size_t n = (size_t)problem->nvars;

    problem->degree = arena_alloc(problem->arena, n, sizeof *problem->degree);
    problem->neighbour = arena_alloc(problem->arena, n, sizeof *problem->neighbour);
    for (int i = 0; i < problem->nlinks; i++) {
        problem->degree[problem->links[i].a]++;
        problem->degree[problem->links[i].b]++;
    }
    for (int v = 0; v < problem->nvars; v++) {
        problem->neighbour[v] =
            arena_alloc(problem->arena, (size_t)problem->degree[v], sizeof **problem->neighbour);
        problem->degree[v] = 0;
    }
    for (int i = 0; i < problem->nlinks; i++) {
        struct net_link *link = &problem->links[i];
        int a = link->a, b = link->b, nb = problem->nvalues[b];

        problem->neighbour[a][problem->degree[a]++] = (struct net_neighbour){b, i, nb, 1, link->cost};
        problem->neighbour[b][problem->degree[b]++] = (struct net_neighbour){a, i, 1, nb, link->cost};
    }
    for (int v = 0; v < problem->nvars; v++)
        sort_neighbours(problem->neighbour[v], problem->degree[v]);
}

static void problem_open(struct problem *problem)
{
    size_t n = (size_t)problem->nvars;

    problem->out = arena_alloc(problem->arena, n, sizeof *problem->out);
    problem->left = arena_alloc(problem->arena, n, sizeof *problem->left);
    for (int v = 0; v < problem->nvars; v++) {
        problem->out[v] = arena_alloc(problem->arena, (size_t)problem->nvalues[v], sizeof(bool));
        problem->left[v] = problem->nvalues[v];
    }
}

void problem_create(struct problem *problem, struct arena *arena, const struct net *net)
{
    size_t n = (size_t)net->nvars;

    *problem = (struct problem){.arena = arena, .nvars = net->nvars, .nlinks = net->nlinks};
    problem->nvalues = arena_grow(arena, net->nvalues, n, n, sizeof *problem->nvalues);
    problem->unary = arena_grow(arena, net->unary, n, n, sizeof *problem->unary);
    problem->links = arena_grow(arena, net->links, (size_t)net->nlinks, (size_t)net->nlinks,
                                sizeof *problem->links);
    problem_tie(problem);
    problem_open(problem);
}

/* Sums of what may not be stay what may not be. */
static int64_t capped(int64_t cost)
{
    return cost > NET_NEVER ? NET_NEVER : cost;
}

int64_t problem_cost(const struct problem *problem, const int *value)
{
    int64_t sum = 0;

    for (int v = 0; v < problem->nvars; v++)
        sum = capped(sum + problem->unary[v][value[v]]);
    for (int i = 0; i < problem->nlinks; i++) {
        const struct net_link *link = &problem->links[i];

        sum = capped(sum + link->cost[value[link->a] * problem->nvalues[link->b] + value[link->b]]);
    }
    return sum;
}

static int64_t least_of(const int64_t *cost, int n)
{
    int64_t least = cost[0];

    for (int i = 1; i < n; i++)
        least = cost[i] < least ? cost[i] : least;
    return least;
}

int64_t problem_bound(const struct problem *problem)
{
    int64_t sum = 0;

    for (int v = 0; v < problem->nvars; v++)
        sum = capped(sum + least_of(problem->unary[v], problem->nvalues[v]));
    for (int i = 0; i < problem->nlinks; i++)
        sum = capped(sum + least_of(problem->links[i].cost,
                                    problem->nvalues[problem->links[i].a] *
                                        problem->nvalues[problem->links[i].b]));
    return sum;
}

int problem_strike(struct problem *problem, int64_t excess_max)
{
    int struck = 0;

    for (int v = 0; v < problem->nvars; v++) {
        int64_t least = least_of(problem->unary[v], problem->nvalues[v]);

        for (int x = 0; x < problem->nvalues[v]; x++)
            if (!problem->out[v][x] && problem->unary[v][x] - least > excess_max) {
                problem->out[v][x] = true;
                problem->left[v]--;
                struck++;
            }
    }
    return struck;
}

/* --- splitting ----------------------------------------------------------------------------- */

struct split {
    const struct problem *whole;
    struct arena *arena;
    int **kept;        /* kept[var][0..left): values left */
    int64_t **unary;   /* by values left, with what settled neighbours and dissolved links add */
    int64_t *constant;
    int *leader;
    bool *tied;        /* of each link: it stays */
};

static int64_t cost_of(const struct split *split, const struct net_link *link, int x, int y)
{
    return link->cost[split->kept[link->a][x] * split->whole->nvalues[link->b] +
                      split->kept[link->b][y]];
}

/* Does the link say no more than a cost for each end? Then those are added and it is dissolved. */
static bool dissolve(struct split *split, const struct net_link *link)
{
    int na = split->whole->left[link->a], nb = split->whole->left[link->b];
    int64_t corner = cost_of(split, link, 0, 0);

    for (int x = 0; x < na; x++)
        for (int y = 0; y < nb; y++)
            if (cost_of(split, link, x, y) - cost_of(split, link, x, 0) !=
                cost_of(split, link, 0, y) - corner)
                return false;
    if (corner >= NET_NEVER / 2)
        return na == 1 && nb == 1 ? (*split->constant = capped(*split->constant + corner), true) : false;
    *split->constant = capped(*split->constant + corner);
    for (int x = 1; x < na; x++)
        split->unary[link->a][x] =
            capped(split->unary[link->a][x] + cost_of(split, link, x, 0) - corner);
    for (int y = 1; y < nb; y++)
        split->unary[link->b][y] =
            capped(split->unary[link->b][y] + cost_of(split, link, 0, y) - corner);
    return true;
}

/* Adding a corner to a unary may leave it below nought: move the least to the constant. */
static void level(struct split *split, int var)
{
    int n = split->whole->left[var];
    int64_t least = least_of(split->unary[var], n);

    *split->constant = capped(*split->constant + least);
    for (int x = 0; x < n; x++)
        if (split->unary[var][x] < NET_NEVER)
            split->unary[var][x] -= least;
}

static int root_of(int *leader, int i)
{
    while (leader[i] != i) {
        leader[i] = leader[leader[i]];
        i = leader[i];
    }
    return i;
}

static void split_begin(struct split *split, const struct problem *whole, struct arena *arena,
                        int64_t *constant)
{
    size_t n = (size_t)whole->nvars;

    *split = (struct split){.whole = whole, .arena = arena, .constant = constant};
    split->kept = arena_alloc(arena, n, sizeof *split->kept);
    split->unary = arena_alloc(arena, n, sizeof *split->unary);
    split->leader = arena_alloc(arena, n, sizeof *split->leader);
    split->tied = arena_alloc(arena, (size_t)whole->nlinks, sizeof *split->tied);
    for (int v = 0; v < whole->nvars; v++) {
        int k = 0;

        split->leader[v] = v;
        split->kept[v] = arena_alloc(arena, (size_t)whole->left[v], sizeof **split->kept);
        split->unary[v] = arena_alloc(arena, (size_t)whole->left[v], sizeof **split->unary);
        for (int x = 0; x < whole->nvalues[v]; x++)
            if (!whole->out[v][x]) {
                split->kept[v][k] = x;
                split->unary[v][k++] = whole->unary[v][x];
            }
    }
}

static void split_tie(struct split *split)
{
    const struct problem *whole = split->whole;

    for (int i = 0; i < whole->nlinks; i++) {
        const struct net_link *link = &whole->links[i];
        int a, b;

        split->tied[i] = !dissolve(split, link);
        if (!split->tied[i])
            continue;
        a = root_of(split->leader, link->a);
        b = root_of(split->leader, link->b);
        if (a < b)
            split->leader[b] = a;
        else
            split->leader[a] = b;
    }
    for (int v = 0; v < whole->nvars; v++)
        level(split, v);
}

/* Free variables take their cheapest; tied ones go to the piece of their leader. */
static int number_pieces(struct split *split, int *piece_of, int *settled)
{
    const struct problem *whole = split->whole;
    int *members = arena_alloc(split->arena, (size_t)whole->nvars, sizeof *members);
    int n = 0;

    for (int v = 0; v < whole->nvars; v++)
        members[root_of(split->leader, v)]++;
    for (int v = 0; v < whole->nvars; v++) {
        int root = root_of(split->leader, v);

        settled[v] = piece_of[v] = -1;
        if (members[root] > 1) {
            piece_of[v] = root == v ? n++ : piece_of[root];
            continue;
        }
        for (int x = 0; x < whole->left[v] && settled[v] < 0; x++)
            if (split->unary[v][x] == 0)
                settled[v] = split->kept[v][x];
        if (settled[v] < 0)
            settled[v] = split->kept[v][0];
    }
    return n;
}

static void fill_pieces(struct split *split, const int *piece_of, struct sub_problem *subs, int n)
{
    const struct problem *whole = split->whole;
    struct arena *arena = split->arena;
    int *place = arena_alloc(arena, (size_t)whole->nvars, sizeof *place);

    for (int v = 0; v < whole->nvars; v++)
        if (piece_of[v] >= 0)
            place[v] = subs[piece_of[v]].problem.nvars++;
    for (int i = 0; i < whole->nlinks; i++)
        if (split->tied[i])
            subs[piece_of[whole->links[i].a]].problem.nlinks++;
    for (int s = 0; s < n; s++) {
        struct problem *piece = &subs[s].problem;
        size_t nvars = (size_t)piece->nvars;

        piece->arena = arena;
        piece->nvalues = arena_alloc(arena, nvars, sizeof *piece->nvalues);
        piece->unary = arena_alloc(arena, nvars, sizeof *piece->unary);
        piece->links = arena_alloc(arena, (size_t)piece->nlinks, sizeof *piece->links);
        subs[s].var = arena_alloc(arena, nvars, sizeof *subs[s].var);
        subs[s].value = arena_alloc(arena, nvars, sizeof *subs[s].value);
        piece->nlinks = 0;
    }
    for (int v = 0; v < whole->nvars; v++) {
        struct sub_problem *sub = piece_of[v] < 0 ? NULL : &subs[piece_of[v]];

        if (!sub)
            continue;
        sub->problem.nvalues[place[v]] = whole->left[v];
        sub->problem.unary[place[v]] = split->unary[v];
        sub->var[place[v]] = v;
        sub->value[place[v]] = split->kept[v];
    }
    for (int i = 0; i < whole->nlinks; i++) {
        const struct net_link *link = &whole->links[i];
        int na = whole->left[link->a], nb = whole->left[link->b];
        struct problem *piece;
        struct net_link *out;

        if (!split->tied[i])
            continue;
        piece = &subs[piece_of[link->a]].problem;
        out = &piece->links[piece->nlinks++];
        out->a = place[link->a];
        out->b = place[link->b];
        out->cost = arena_alloc(arena, (size_t)na * (size_t)nb, sizeof *out->cost);
        for (int x = 0; x < na; x++)
            for (int y = 0; y < nb; y++)
                out->cost[x * nb + y] = cost_of(split, link, x, y);
    }
    for (int s = 0; s < n; s++) {
        problem_tie(&subs[s].problem);
        problem_open(&subs[s].problem);
    }
}

int problem_split(const struct problem *problem, struct arena *arena, struct sub_problem **subs,
                  int *settled, int64_t *constant)
{
    int *piece_of = arena_alloc(arena, (size_t)problem->nvars, sizeof *piece_of);
    struct split split;
    int n;

    *constant = 0;
    split_begin(&split, problem, arena, constant);
    split_tie(&split);
    n = number_pieces(&split, piece_of, settled);
    *subs = arena_alloc(arena, (size_t)n, sizeof **subs);
    fill_pieces(&split, piece_of, *subs, n);
    return n;
}
