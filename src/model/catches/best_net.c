/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * One part as a network: a variable for each catch, its values the stitches it may stand behind.
 *
 * A float that may take a spare has one catch more than the fewest, whose last value is "not made".
 * The costs, in layers each larger than all that lies below it: stacks, spares, near pairs, breaches
 * of clear_ends, squared pieces. Twice as large, so that a bound on the sum bounds each layer.
 */
#include "best_internal.h"

#include <string.h>

#include "base/arena.h"
#include "base/work.h"
#include "net.h"

enum { SCALE = 16 }; /* fractions of a unit for the bound to move in */

struct catch_var {
    int of;          /* float */
    int first, last; /* positions from .. to */
    bool may_be_none; /* a value after the last position: not made */
};

struct layers {
    int64_t stack, spare, near, end;
    int64_t nears_max, spares_max, ends_max, squares_max, squares_min;
    bool fits;
    bool no_stacks; /* a placement without any is known: they are ruled out, not priced */
};

struct build {
    struct work *work;
    const struct catch_rules *rules;
    const struct part *part;
    struct arena *arena;
    int nvars;
    struct catch_var *var;
    int *first_var;      /* of float i; [nfloats] too */
    int *nvalues;
    int64_t **unary;
    int nlinks, link_room;
    struct net_link *links;
    struct layers layers;
};

static int clear_from(const struct part_float *span)
{
    return span->span_sts >= 3 ? 2 : 1;
}

static int clear_to(const struct part_float *span)
{
    return span->span_sts >= 3 ? span->span_sts - 1 : span->span_sts;
}

static int most_of(const struct part_float *span)
{
    return span->fewest + span->may_spare;
}

static int larger(int a, int b)
{
    return a > b ? a : b;
}

static int smaller(int a, int b)
{
    return a < b ? a : b;
}

/* Where catch j (from 1) of a float can stand at all. */
static struct catch_var reach_of(const struct build *build, int index, int j)
{
    const struct part_float *span = &build->part->floats[index];
    int step = build->rules->leave_sts + 1, n = span->span_sts;
    int from = clear_from(span), to = clear_to(span), most = most_of(span);
    struct catch_var var = {.of = index};

    var.first = larger(from + j - 1, n + 1 - (most - j + 1) * step);
    var.last = smaller(j * step, to - larger(span->fewest - j, 0));
    var.may_be_none = j > span->fewest;
    return var;
}

static int value_count(const struct catch_var *var)
{
    return var->last - var->first + 1 + var->may_be_none;
}

/* Column of a value; -1: the catch is not made. */
static int column_of(const struct build *build, const struct catch_var *var, int value)
{
    if (var->first + value > var->last)
        return -1;
    return build->part->floats[var->of].column[var->first + value];
}

static void list_vars(struct build *build)
{
    const struct part *part = build->part;
    int n = 0;

    build->first_var = arena_alloc(build->arena, (size_t)part->nfloats + 1, sizeof(int));
    for (int i = 0; i < part->nfloats; i++)
        n += most_of(&part->floats[i]);
    build->var = arena_alloc(build->arena, (size_t)n, sizeof *build->var);
    build->nvalues = arena_alloc(build->arena, (size_t)n, sizeof *build->nvalues);
    build->unary = arena_alloc(build->arena, (size_t)n, sizeof *build->unary);
    for (int i = 0; i < part->nfloats; i++) {
        build->first_var[i] = build->nvars;
        for (int j = 1; j <= most_of(&part->floats[i]); j++) {
            struct catch_var *var = &build->var[build->nvars];

            *var = reach_of(build, i, j);
            build->nvalues[build->nvars] = value_count(var);
            build->unary[build->nvars] =
                arena_alloc(build->arena, (size_t)value_count(var), sizeof(int64_t));
            build->nvars++;
        }
    }
    build->first_var[part->nfloats] = build->nvars;
}

/* --- pairs ---------------------------------------------------------------------------------- */

static struct catch_pair pair_of(const struct build *build, int var_a, int column_a, int var_b,
                                 int column_b)
{
    if (column_a < 0 || column_b < 0)
        return (struct catch_pair){0, 0};
    return best_pair(build->rules, build->part, &build->part->floats[build->var[var_a].of], column_a,
                     &build->part->floats[build->var[var_b].of], column_b);
}

/* Could any two of their values meet? */
static bool may_meet(const struct build *build, int a, int b)
{
    const struct part *part = build->part;
    const struct catch_var *va = &build->var[a], *vb = &build->var[b];
    int reach = build->rules->stagger_cols - 1;
    const int *ca = part->floats[va->of].column, *cb = part->floats[vb->of].column;

    if (part->round_columns)
        return true;
    return ca[va->first] - reach <= cb[vb->last] && cb[vb->first] - reach <= ca[va->last];
}

static int64_t *new_link(struct build *build, int a, int b)
{
    struct net_link *link;
    size_t cells = (size_t)build->nvalues[a] * (size_t)build->nvalues[b];

    if (build->nlinks == build->link_room) {
        int room = build->link_room ? 2 * build->link_room : 64;

        build->links = arena_grow(build->arena, build->links, (size_t)build->link_room, (size_t)room,
                                  sizeof *build->links);
        build->link_room = room;
    }
    link = &build->links[build->nlinks++];
    link->a = a;
    link->b = b;
    link->cost = arena_alloc(build->arena, cells, sizeof *link->cost);
    return link->cost;
}

/* NET_NEVER stays what it is, however often. */
static int64_t price(const struct layers *layers, struct catch_pair pair)
{
    if (layers->no_stacks && pair.stacks > 0)
        return NET_NEVER;
    return (layers->no_stacks ? 0 : pair.stacks * layers->stack) + pair.nears * layers->near;
}

static void add_price(int64_t *cost, int64_t more)
{
    *cost = *cost >= NET_NEVER || more >= NET_NEVER ? NET_NEVER : *cost + more;
}

static void link_pair(struct build *build, int a, int b)
{
    bool any = false;
    int64_t *cost = NULL;

    for (int x = 0; x < build->nvalues[a]; x++)
        for (int y = 0; y < build->nvalues[b]; y++) {
            struct catch_pair pair = pair_of(build, a, column_of(build, &build->var[a], x), b,
                                       column_of(build, &build->var[b], y));

            if (pair.stacks == 0 && pair.nears == 0)
                continue;
            if (!any)
                cost = new_link(build, a, b);
            any = true;
            cost[x * build->nvalues[b] + y] = price(&build->layers, pair);
        }
}

/* Within a float: in order, no piece over the limit. */
static void link_chain(struct build *build, int a)
{
    const struct catch_var *va = &build->var[a], *vb = &build->var[a + 1];
    const struct part_float *span = &build->part->floats[va->of];
    int leave = build->rules->leave_sts, nb = build->nvalues[a + 1];
    int64_t *cost = new_link(build, a, a + 1);

    for (int x = 0; x < build->nvalues[a]; x++)
        for (int y = 0; y < nb; y++) {
            int p = va->first + x;
            int q = vb->first + y <= vb->last ? vb->first + y : span->span_sts + 1;
            int64_t piece = q - p - 1;

            cost[x * nb + y] = piece < 0 || piece > leave ? NET_NEVER : piece * piece * SCALE;
        }
    if (build->part->alone) /* one row on itself: they stand above and below each other too */
        for (int x = 0; x < build->nvalues[a]; x++)
            for (int y = 0; y < nb; y++) {
                struct catch_pair pair = pair_of(build, a, column_of(build, va, x), a + 1,
                                           column_of(build, vb, y));

                add_price(&cost[x * nb + y], price(&build->layers, pair));
            }
}

static void set_unary(struct build *build, int v)
{
    const struct catch_var *var = &build->var[v];
    const struct part_float *span = &build->part->floats[var->of];
    int leave = build->rules->leave_sts;
    int j = v - build->first_var[var->of] + 1;
    bool last = j == most_of(span);

    for (int x = 0; x < build->nvalues[v]; x++) {
        int p = var->first + x;
        int64_t *cost = &build->unary[v][x];

        if (p > var->last)
            continue; /* not made: costs nothing */
        if (var->may_be_none)
            add_price(cost, build->layers.spare);
        if (j == 1)
            add_price(cost, p - 1 > leave ? NET_NEVER : (int64_t)(p - 1) * (p - 1) * SCALE);
        if (last)
            add_price(cost, span->span_sts - p > leave
                                ? NET_NEVER
                                : (int64_t)(span->span_sts - p) * (span->span_sts - p) * SCALE);
        if (build->rules->clear_ends > 1 && (p <= 2 || p >= span->span_sts - 1))
            add_price(cost, build->layers.end);
        add_price(cost, price(&build->layers,
                              best_own_pair(build->rules, build->part, span->column[p])));
    }
}

static void link_floats(void *to, int i, int k)
{
    struct build *build = to;

    if (build->part->floats[i].row == build->part->floats[k].row && !build->part->alone &&
        build->part->floats[i].strand == build->part->floats[k].strand)
        return;
    for (int v = build->first_var[i]; v < build->first_var[i + 1]; v++)
        for (int w = build->first_var[k]; w < build->first_var[k + 1]; w++)
            if (may_meet(build, v, w))
                link_pair(build, v, w);
}

/* --- layers ------------------------------------------------------------------------------------- */

/* The most floats that pass behind one stitch: so many strands can be caught there. */
static int64_t strands_over(const struct build *build)
{
    const struct part *part = build->part;
    int *over = arena_alloc(build->arena, (size_t)part->ncols, sizeof *over);
    int most = 1;

    for (int i = 0, first = 0; i < part->nfloats; i++) {
        for (; part->floats[first].row != part->floats[i].row; first++)
            for (int p = 1; p <= part->floats[first].span_sts; p++)
                over[part->floats[first].column[p]] = 0;
        for (int p = 1; p <= part->floats[i].span_sts; p++) {
            int now = ++over[part->floats[i].column[p]];

            most = now > most ? now : most;
        }
    }
    return most;
}

/* The squared pieces of a float: the most (as many whole pieces as there may be) and the least (as
 * even as can be), with so many catches. */
static int64_t most_squares(int span_sts, int catches, int64_t leave)
{
    int64_t loose = span_sts - catches;

    return loose / leave * leave * leave + loose % leave * (loose % leave);
}

static int64_t least_squares(int span_sts, int catches)
{
    int64_t loose = span_sts - catches, pieces = catches + 1;
    int64_t each = loose / pieces, longer = loose % pieces;

    return longer * (each + 1) * (each + 1) + (pieces - longer) * each * each;
}

/* Each layer larger than all below it can differ: `wide` times, so that a bound on the sum is one on
 * each. false: too large to be kept exactly. */
static bool layers_fit(struct layers *layers, int64_t range, int64_t stacks_max, int wide)
{
    double end = (double)(wide * range + 1) * SCALE;
    double near = end * (double)(wide * layers->ends_max + 1);
    double spare = near * (double)(wide * layers->nears_max + 1);
    double stack = spare * (double)(wide * layers->spares_max + 1);
    double top = layers->no_stacks ? stack : stack * (double)(stacks_max + 1);

    if (top >= (double)NET_COST_MAX)
        return false;
    layers->end = (wide * range + 1) * SCALE;
    layers->near = layers->end * (wide * layers->ends_max + 1);
    layers->spare = layers->near * (wide * layers->nears_max + 1);
    layers->stack =
        layers->no_stacks ? NET_NEVER : layers->spare * (wide * layers->spares_max + 1);
    return true;
}

static void set_layers(struct build *build)
{
    const struct part *part = build->part;
    struct layers *layers = &build->layers;
    int64_t leave = build->rules->leave_sts, over = strands_over(build), range = 0, stacks_max;
    bool small_ring = (part->round_columns && part->ncols < 2 * build->rules->stagger_cols) ||
                      (part->round_rows && part->nrows <= 2);
    int64_t rounds = small_ring ? 2 : 1; /* there a pair may be counted twice */

    for (int i = 0; i < part->nfloats; i++) {
        const struct part_float *span = &part->floats[i];
        int64_t most = most_squares(span->span_sts, span->fewest, leave);
        int64_t least = least_squares(span->span_sts, most_of(span));

        layers->squares_max += most;
        layers->squares_min += least;
        range += most - least;
        layers->spares_max += span->may_spare;
    }
    layers->ends_max = build->rules->clear_ends > 1 ? build->nvars : 0;
    layers->nears_max = 2 * rounds * over * (build->rules->stagger_cols - 1) * build->nvars;
    stacks_max = (rounds * over + over) * build->nvars;
    layers->fits = layers_fit(layers, range, stacks_max, 2) || layers_fit(layers, range, stacks_max, 1);
}

/* --- reading the answer ------------------------------------------------------------------------------ */

static void read_answer(const struct build *build, const int *value, struct part_answer *answer)
{
    int at = 0;

    for (int i = 0; i < build->part->nfloats; i++) {
        const struct part_float *span = &build->part->floats[i];

        for (int j = 0; j <= span->fewest; j++, at++) {
            int v = build->first_var[i] + j;
            int p = v < build->first_var[i + 1] ? build->var[v].first + value[v] : 0;

            answer->place[at] = v < build->first_var[i + 1] && p <= build->var[v].last ? p : 0;
        }
    }
}

static int64_t ceil_div(int64_t a, int64_t b)
{
    return a <= 0 ? 0 : (a + b - 1) / b;
}

/* What a bound on the sum says of each layer in turn. */
static void read_bounds(const struct layers *layers, const struct net_answer *net,
                        struct part_answer *answer)
{
    int64_t squares = layers->squares_max * SCALE;
    int64_t below_near = squares + layers->ends_max * layers->end;
    int64_t below_spare = below_near + layers->nears_max * layers->near;
    int64_t below_stack = below_spare + layers->spares_max * layers->spare;
    int64_t above;

    if (!layers->no_stacks)
        answer->bound_stacks = ceil_div(net->bound - below_stack, layers->stack);
    above = layers->no_stacks ? 0 : answer->stacks * layers->stack;
    if (answer->bound_stacks == answer->stacks)
        answer->bound_spares = ceil_div(net->bound - above - below_spare, layers->spare);
    above += answer->spares * layers->spare;
    if (answer->bound_stacks == answer->stacks && answer->bound_spares == answer->spares)
        answer->bound_near = ceil_div(net->bound - above - below_near, layers->near);
    above += answer->near * layers->near;
    if (answer->bound_stacks == answer->stacks && answer->bound_spares == answer->spares &&
        answer->bound_near == answer->near)
        answer->bound_squares = ceil_div(net->bound - above - answer->ends * layers->end, SCALE);
    if (answer->bound_squares < layers->squares_min)
        answer->bound_squares = layers->squares_min;
    if (net->proven) {
        answer->bound_squares = answer->squares;
        answer->bound_stacks = answer->stacks;
        answer->bound_spares = answer->spares;
        answer->bound_near = answer->near;
    }
}

/* The larger the part, the less is tried for each catch of it: the whole stays within bounds. */
static struct net_effort effort_for(int ncatches)
{
    enum { STATES = 400000, STATES_MOST = 40000, STATES_LEAST = 200, PASSES = 1000000,
           PASSES_MOST = 400, PASSES_LEAST = 120 };
    struct net_effort effort = {.granule = SCALE, .cells = 1 << 15, .cells_last = 1 << 21, .steps = 150000000};

    effort.states = STATES / ncatches;
    effort.states = effort.states > STATES_MOST ? STATES_MOST : effort.states;
    effort.states = effort.states < STATES_LEAST ? STATES_LEAST : effort.states;
    effort.passes = PASSES / ncatches;
    effort.passes = effort.passes > PASSES_MOST ? PASSES_MOST : effort.passes;
    effort.passes = effort.passes < PASSES_LEAST ? PASSES_LEAST : effort.passes;
    return effort;
}

/* One part, once; no_stacks: they are ruled out. false: its costs are too large to be kept exactly, or
 * no placement was found. */
static bool solve_once(struct work *work, const struct catch_rules *rules, const struct part *part,
                       bool no_stacks, struct part_answer *answer)
{
    struct net_effort effort;
    struct build build = {.work = work, .rules = rules, .part = part};
    struct net_answer found = {0};
    struct net net;
    bool fits;

    build.arena = arena_branch(work->arena);
    build.layers.no_stacks = no_stacks;
    list_vars(&build);
    set_layers(&build);
    fits = build.layers.fits;
    for (int v = 0; v < build.nvars; v++) /* a limit of very many stitches: too many places */
        fits = fits && build.nvalues[v] <= NET_VALUES_MAX;
    for (int v = 0; v < build.nvars && fits; v++) {
        set_unary(&build, v);
        if (v + 1 < build.nvars && build.var[v].of == build.var[v + 1].of)
            link_chain(&build, v);
    }
    if (fits) {
        best_each_pair(build.arena, rules, part, link_floats, &build);
        net = (struct net){build.nvars, build.nvalues, build.unary, build.nlinks, build.links};
        effort = effort_for(build.nvars);
        net_solve(work, &net, &effort, &found);
        fits = found.cost < NET_COST_MAX;
    }
    if (fits) {
        read_answer(&build, found.value, answer);
        best_score(work, rules, part, answer);
        answer->found = true;
        answer->proven = found.proven;
        read_bounds(&build.layers, &found, answer);
    }
    arena_destroy(build.arena);
    return fits;
}

/* The part with every float at its fewest. */
static struct part without_spares(struct work *work, const struct part *part)
{
    struct part plain = *part;

    plain.floats = arena_grow(work->arena, part->floats, (size_t)part->nfloats, (size_t)part->nfloats,
                              sizeof *part->floats);
    for (int i = 0; i < part->nfloats; i++)
        plain.floats[i].may_spare = false;
    return plain;
}

static bool may_spare(const struct part *part)
{
    for (int i = 0; i < part->nfloats; i++)
        if (part->floats[i].may_spare)
            return true;
    return false;
}

static int places_of(const struct part *part)
{
    int places = 0;

    for (int i = 0; i < part->nfloats; i++)
        places += part->floats[i].fewest + 1;
    return places;
}

/* The better placement of two; the bounds are those of `bounds`. */
static void take_better(const struct part_answer *one, const struct part_answer *bounds,
                        struct part_answer *answer)
{
    if (one->found && (!answer->found || best_compare(one, answer, 1) < 0))
        *answer = *one;
    answer->proven = bounds->proven;
    answer->bound_stacks = bounds->bound_stacks;
    answer->bound_spares = bounds->bound_spares;
    answer->bound_near = bounds->bound_near;
    answer->bound_squares = bounds->bound_squares;
}

void best_solve_part(struct work *work, const struct catch_rules *rules, const struct part *part,
                     const struct part_answer *quick, struct part_answer *answer)
{
    struct part plain = without_spares(work, part);
    size_t places = (size_t)places_of(part);
    struct part_answer none = {0}, fewest = {0}, spares = {0};
    bool no_stacks = quick->stacks == 0;

    fewest.place = arena_alloc(work->arena, places, sizeof *fewest.place);
    spares.place = arena_alloc(work->arena, places, sizeof *spares.place);
    *answer = (struct part_answer){0};
    /* Spares only ever save stacks: where the fewest catches need none, that is the answer. */
    solve_once(work, rules, &plain, no_stacks && quick->spares == 0, &fewest);
    if (!may_spare(part) || (fewest.found && fewest.proven && fewest.stacks == 0)) {
        take_better(&fewest, &fewest, answer);
        take_better(quick, &fewest, answer);
        return;
    }
    solve_once(work, rules, part, no_stacks, &spares);
    take_better(&spares, &spares, answer);
    take_better(&fewest, spares.found ? &spares : &none, answer);
    take_better(quick, spares.found ? &spares : &none, answer);
}
