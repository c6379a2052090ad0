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

/* Neighbour lists from the ties. */
static void list_neighbours(struct problem *problem)
{
    size_t n = (size_t)problem->nvars;

    problem->degree = arena_alloc(problem->arena, n, sizeof *problem->degree);
    problem->neighbour = arena_alloc(problem->arena, n, sizeof *problem->neighbour);
    for (int i = 0; i < problem->nties; i++) {
        problem->degree[problem->ties[i].a]++;
        problem->degree[problem->ties[i].b]++;
    }
    for (int v = 0; v < problem->nvars; v++) {
        problem->neighbour[v] =
            arena_alloc(problem->arena, (size_t)problem->degree[v], sizeof **problem->neighbour);
        problem->degree[v] = 0;
    }
    for (int i = 0; i < problem->nties; i++) {
        struct net_tie *tie = &problem->ties[i];
        int a = tie->a, b = tie->b, nb = problem->nvalues[b];

        problem->neighbour[a][problem->degree[a]++] =
            (struct net_neighbour){b, nb, 1, tie->cost, tie->given_a, tie->given_b};
        problem->neighbour[b][problem->degree[b]++] =
            (struct net_neighbour){a, 1, nb, tie->cost, tie->given_b, tie->given_a};
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

static void give_room(const struct problem *problem, struct net_tie *tie)
{
    tie->given_a = arena_alloc(problem->arena, (size_t)problem->nvalues[tie->a], sizeof(int64_t));
    tie->given_b = arena_alloc(problem->arena, (size_t)problem->nvalues[tie->b], sizeof(int64_t));
}

void problem_create(struct problem *problem, struct arena *arena, const struct net *net)
{
    size_t n = (size_t)net->nvars;

    *problem = (struct problem){.arena = arena, .nvars = net->nvars, .nties = net->nlinks};
    problem->nvalues = arena_grow(arena, net->nvalues, n, n, sizeof *problem->nvalues);
    problem->unary = arena_grow(arena, net->unary, n, n, sizeof *problem->unary);
    problem->ties = arena_alloc(arena, (size_t)net->nlinks, sizeof *problem->ties);
    for (int i = 0; i < net->nlinks; i++) {
        const struct net_link *link = &net->links[i];

        problem->ties[i] = (struct net_tie){.a = link->a, .b = link->b, .cost = link->cost};
        give_room(problem, &problem->ties[i]);
    }
    list_neighbours(problem);
    problem_open(problem);
}

/* Sums of what may not be stay what may not be. */
static int64_t capped(int64_t cost)
{
    return cost > NET_NEVER ? NET_NEVER : cost;
}

static int64_t tie_cost(const struct problem *problem, const struct net_tie *tie, int x, int y)
{
    int64_t cost = tie->cost[x * problem->nvalues[tie->b] + y];

    if (net_is_never(problem->unary[tie->a][x]) || net_is_never(problem->unary[tie->b][y]))
        return NET_NEVER; /* what is given takes no account of values that cannot be */
    return net_is_never(cost) ? NET_NEVER : cost - tie->given_a[x] - tie->given_b[y];
}

int64_t *problem_tie_costs(const struct problem *problem, const struct net_tie *tie,
                           struct arena *arena)
{
    int na = problem->nvalues[tie->a], nb = problem->nvalues[tie->b];
    int64_t *cost = arena_alloc(arena, (size_t)na * (size_t)nb, sizeof *cost);

    for (int x = 0; x < na; x++)
        for (int y = 0; y < nb; y++)
            cost[x * nb + y] = tie_cost(problem, tie, x, y);
    return cost;
}

int64_t problem_cost(const struct problem *problem, const int *value)
{
    int64_t sum = 0;

    for (int v = 0; v < problem->nvars; v++)
        sum = capped(sum + problem->unary[v][value[v]]);
    for (int i = 0; i < problem->nties; i++) {
        const struct net_tie *tie = &problem->ties[i];

        sum = capped(sum + tie_cost(problem, tie, value[tie->a], value[tie->b]));
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

static int64_t least_of_tie(const struct problem *problem, const struct net_tie *tie)
{
    int64_t least = INT64_MAX;

    for (int x = 0; x < problem->nvalues[tie->a]; x++)
        for (int y = 0; y < problem->nvalues[tie->b]; y++) {
            int64_t cost = tie_cost(problem, tie, x, y);

            least = cost < least ? cost : least;
        }
    return least;
}

int64_t problem_bound(const struct problem *problem)
{
    int64_t sum = 0;

    for (int v = 0; v < problem->nvars; v++)
        sum = capped(sum + least_of(problem->unary[v], problem->nvalues[v]));
    for (int i = 0; i < problem->nties; i++)
        sum = capped(sum + least_of_tie(problem, &problem->ties[i]));
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
        if (problem->left[v] == 0)
            return -1;
    }
    return struck;
}

/* --- splitting ----------------------------------------------------------------------------- */

struct split {
    const struct problem *whole;
    struct arena *arena;
    int **kept;        /* kept[var][0..left): values left */
    int64_t **unary;   /* by values left, with what settled neighbours and dissolved ties add */
    int64_t *constant;
    int *leader;
    bool *tied;        /* of each tie: it stays */
};

static int64_t cost_of(const struct split *split, const struct net_tie *tie, int x, int y)
{
    return tie_cost(split->whole, tie, split->kept[tie->a][x], split->kept[tie->b][y]);
}

/* Does the tie say no more than a cost for each end? Then those are added and it is dissolved. */
static bool dissolve(struct split *split, const struct net_tie *tie)
{
    int na = split->whole->left[tie->a], nb = split->whole->left[tie->b];
    int64_t corner = cost_of(split, tie, 0, 0);

    for (int x = 0; x < na; x++)
        for (int y = 0; y < nb; y++)
            if (cost_of(split, tie, x, y) - cost_of(split, tie, x, 0) !=
                cost_of(split, tie, 0, y) - corner)
                return false;
    if (corner >= NET_NEVER / 2)
        return na == 1 && nb == 1 ? (*split->constant = capped(*split->constant + corner), true) : false;
    *split->constant = capped(*split->constant + corner);
    for (int x = 1; x < na; x++)
        split->unary[tie->a][x] =
            capped(split->unary[tie->a][x] + cost_of(split, tie, x, 0) - corner);
    for (int y = 1; y < nb; y++)
        split->unary[tie->b][y] =
            capped(split->unary[tie->b][y] + cost_of(split, tie, 0, y) - corner);
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
    split->tied = arena_alloc(arena, (size_t)whole->nties, sizeof *split->tied);
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

    for (int i = 0; i < whole->nties; i++) {
        const struct net_tie *tie = &whole->ties[i];
        int a, b;

        split->tied[i] = !dissolve(split, tie);
        if (!split->tied[i])
            continue;
        a = root_of(split->leader, tie->a);
        b = root_of(split->leader, tie->b);
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

/* The same with the values left; what was given goes with it. */
static void copy_tie(const struct split *split, const struct net_tie *tie, const int *place,
                     struct problem *piece)
{
    const int *kept_a = split->kept[tie->a], *kept_b = split->kept[tie->b];
    struct net_tie *out = &piece->ties[piece->nties++];
    int na, nb, nb_whole = split->whole->nvalues[tie->b];
    int64_t *cost;

    out->a = place[tie->a];
    out->b = place[tie->b];
    na = piece->nvalues[out->a];
    nb = piece->nvalues[out->b];
    cost = arena_alloc(split->arena, (size_t)na * (size_t)nb, sizeof *cost);
    give_room(piece, out);
    for (int x = 0; x < na; x++) {
        out->given_a[x] = tie->given_a[kept_a[x]];
        for (int y = 0; y < nb; y++)
            cost[x * nb + y] = tie->cost[kept_a[x] * nb_whole + kept_b[y]];
    }
    for (int y = 0; y < nb; y++)
        out->given_b[y] = tie->given_b[kept_b[y]];
    out->cost = cost;
}

static void fill_pieces(struct split *split, const int *piece_of, struct sub_problem *subs, int n)
{
    const struct problem *whole = split->whole;
    struct arena *arena = split->arena;
    int *place = arena_alloc(arena, (size_t)whole->nvars, sizeof *place);

    for (int v = 0; v < whole->nvars; v++)
        if (piece_of[v] >= 0)
            place[v] = subs[piece_of[v]].problem.nvars++;
    for (int i = 0; i < whole->nties; i++)
        if (split->tied[i])
            subs[piece_of[whole->ties[i].a]].problem.nties++;
    for (int s = 0; s < n; s++) {
        struct problem *piece = &subs[s].problem;
        size_t nvars = (size_t)piece->nvars;

        piece->arena = arena;
        piece->nvalues = arena_alloc(arena, nvars, sizeof *piece->nvalues);
        piece->unary = arena_alloc(arena, nvars, sizeof *piece->unary);
        piece->ties = arena_alloc(arena, (size_t)piece->nties, sizeof *piece->ties);
        subs[s].var = arena_alloc(arena, nvars, sizeof *subs[s].var);
        subs[s].value = arena_alloc(arena, nvars, sizeof *subs[s].value);
        piece->nties = 0;
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
    for (int i = 0; i < whole->nties; i++)
        if (split->tied[i])
            copy_tie(split, &whole->ties[i], place, &subs[piece_of[whole->ties[i].a]].problem);
    for (int s = 0; s < n; s++) {
        list_neighbours(&subs[s].problem);
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
