/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * From the last stage to the first: what may follow a count depends on that count alone, so the
 * best continuations of each are found once. Costs are compared term by term and add up exactly.
 */
#include "together.h"

#include <stdlib.h>

#include "base/arena.h"
#include "base/work.h"
#include "model/gauge/shaping.h"
#include "model/gauge/sizing.h"

/* --- the counts of a stage ------------------------------------------------------------------- */

struct cost {
    int rounds;
    struct rational off;
    int64_t shaped;
};

/* A way on from a count: the count of the next stage, and which of its ways. */
struct way {
    struct cost cost;
    int next, rank;
};

struct place {
    int64_t count;
    struct rational off; /* of this count */
    struct way ways[TOGETHER_BEST];
    int nways;
};

struct column {
    struct place *places; /* by count, ascending */
    int nplaces;
};

static struct rational off_of(const struct together_stage *stage, int64_t count)
{
    struct rational sum = rational_whole(0);

    for (int i = 0; i < stage->ntargets; i++)
        sum = rational_add(sum, rational_distance(rational_whole(count), stage->targets[i]));
    return sum;
}

static struct rational mean_of(const struct together_stage *stage)
{
    struct rational sum = rational_whole(0);

    for (int i = 0; i < stage->ntargets; i++)
        sum = rational_add(sum, stage->targets[i]);
    return rational_div(sum, rational_whole(stage->ntargets > 0 ? stage->ntargets : 1));
}

/* Within reach of every target, or of the `pass` over it: from *low to *high. */
static bool set_window(const struct together_stage *stage, double reach, int64_t pass, int64_t *low,
                       int64_t *high)
{
    struct rational part = rational_millionths(reach);

    *low = 1;
    *high = INT64_MAX;
    for (int i = 0; i < stage->ntargets; i++) {
        struct rational each = rational_mul(stage->targets[i], part);
        struct rational least = rational_sub(stage->targets[i], each);
        struct rational most = rational_add(stage->targets[i], each);
        struct rational passing = rational_mul(rational_whole(pass), rational_add(part, rational_whole(1)));

        if (!rational_is_value(least) || !rational_is_value(most) || !rational_is_value(passing))
            return false;
        most = rational_compare(passing, most) > 0 ? passing : most;
        *low = rational_ceil(least) > *low ? rational_ceil(least) : *low;
        *high = rational_floor(most) < *high ? rational_floor(most) : *high;
    }
    return true;
}

static void add_place(const struct together_stage *stage, struct column *column, int64_t count)
{
    if (count > 0)
        column->places[column->nplaces++] =
            (struct place){.count = count, .off = off_of(stage, count)};
}

static int by_count(const void *a, const void *b)
{
    const struct place *x = a, *y = b;

    return (x->count > y->count) - (x->count < y->count);
}

/* Alternately over and under the mean, so that too many leave out the farthest. */
static void gather(const struct together_stage *stage, const struct count_set *counts, int64_t low,
                   int64_t high, int64_t middle, struct column *column)
{
    int64_t below = sizing_below(counts, middle), above = sizing_above(counts, middle);

    while (column->nplaces < TOGETHER_COUNTS_MAX && (below >= low || above <= high)) {
        bool down = below >= low && below > 0;

        if (!down && above > high)
            break;
        if (down && (above > high || middle - below <= above - middle)) {
            add_place(stage, column, below);
            below = sizing_below(counts, below - 1);
        } else {
            add_place(stage, column, above);
            above = sizing_above(counts, above);
        }
    }
}

/* The nearest each way, as far as anybody would wear them. */
static enum together_trouble add_nearest(const struct together_stage *stage, double most, int64_t below,
                                         int64_t above, struct column *column)
{
    int64_t low = 1, high = INT64_MAX;

    if (most > 0.0 && !set_window(stage, most, stage->pass, &low, &high))
        return TOGETHER_HUGE;
    if (below >= low && below <= high)
        add_place(stage, column, below);
    if (above >= low && above <= high)
        add_place(stage, column, above);
    return column->nplaces > 0 ? TOGETHER_FAR : TOGETHER_BEYOND;
}

static enum together_trouble fill_column(const struct together_question *question, int index,
                                         struct together_answer *answer, struct column *column)
{
    const struct together_stage *stage = &question->stages[index];
    struct count_set counts = sizing_counts(stage->rules, stage->nrules);
    struct rational mean = mean_of(stage);
    int64_t low, high, middle;

    if (stage->fixed > 0) {
        add_place(stage, column, stage->fixed);
        return rational_is_value(column->places[0].off) ? TOGETHER_FINE : TOGETHER_HUGE;
    }
    counts.least = stage->least > 1 ? stage->least : 1;
    answer->multiple[index] = counts.multiple;
    if (counts.multiple == 0 || !rational_is_value(mean) ||
        !set_window(stage, question->reach, 0, &low, &high))
        return TOGETHER_HUGE;
    if (counts.nresidues == 0)
        return TOGETHER_NEVER;
    middle = rational_floor(mean);
    if (middle > INT32_MAX || counts.multiple > INT32_MAX)
        return TOGETHER_HUGE;
    answer->below[index] = sizing_below(&counts, middle);
    answer->above[index] = sizing_above(&counts, middle);
    gather(stage, &counts, low, high, middle, column);
    for (int i = 0; i < column->nplaces; i++)
        if (!rational_is_value(column->places[i].off))
            return TOGETHER_HUGE;
    if (column->nplaces > 0) {
        qsort(column->places, (size_t)column->nplaces, sizeof *column->places, by_count);
        return TOGETHER_FINE;
    }
    return add_nearest(stage, question->most, answer->below[index], answer->above[index], column);
}

/* --- from the last stage to the first ---------------------------------------------------------- */

/* As in the header, the larger count excepted; < 0: a is the better. */
static int compare_costs(const struct cost *a, const struct cost *b)
{
    int off;

    if (a->rounds != b->rounds)
        return a->rounds < b->rounds ? -1 : 1;
    off = rational_compare(a->off, b->off);
    if (off != 0)
        return off;
    return (a->shaped > b->shaped) - (a->shaped < b->shaped);
}

/* Equal ones stay in the order in which they come. */
static void keep_best(struct way *ways, int *nways, const struct way *way)
{
    int to = *nways;

    while (to > 0 && compare_costs(&way->cost, &ways[to - 1].cost) < 0)
        to--;
    if (to == TOGETHER_BEST)
        return;
    for (int i = *nways < TOGETHER_BEST ? *nways : TOGETHER_BEST - 1; i > to; i--)
        ways[i] = ways[i - 1];
    ways[to] = *way;
    *nways += *nways < TOGETHER_BEST;
}

/* Larger counts first, and of each its better ways first: so equal ones are in the right order. */
static bool find_ways(struct place *place, const struct column *next)
{
    for (int j = next->nplaces - 1; j >= 0; j--) {
        const struct place *to = &next->places[j];
        int rounds = shaping_rounds(place->count, to->count);

        for (int rank = 0; rank < to->nways; rank++) {
            const struct cost *rest = &to->ways[rank].cost;
            struct way way = {.next = j, .rank = rank};

            way.cost.rounds = rest->rounds + rounds;
            if (place->nways == TOGETHER_BEST &&
                way.cost.rounds > place->ways[TOGETHER_BEST - 1].cost.rounds)
                break;
            way.cost.off = rational_add(rest->off, place->off);
            way.cost.shaped = rest->shaped + llabs((long long)(place->count - to->count));
            if (!rational_is_value(way.cost.off))
                return false;
            keep_best(place->ways, &place->nways, &way);
        }
    }
    return true;
}

static void take_set(struct work *work, const struct column *columns, int nstages,
                     const struct way *first, struct together_set *set)
{
    int64_t *counts = arena_alloc(work->arena, (size_t)nstages, sizeof *counts);
    const struct way *way = first;

    for (int i = 0; i < nstages; i++) {
        const struct place *place = &columns[i].places[way->next];

        counts[i] = place->count;
        way = &place->ways[way->rank];
    }
    *set = (struct together_set){counts, first->cost.rounds, first->cost.off, first->cost.shaped};
}

static bool solve(struct work *work, struct column *columns, int nstages,
                  struct together_answer *answer)
{
    struct way best[TOGETHER_BEST];
    int nbest = 0;

    for (int i = nstages - 1; i >= 0; i--)
        for (int j = 0; j < columns[i].nplaces; j++) {
            struct place *place = &columns[i].places[j];

            if (i == nstages - 1) {
                place->ways[place->nways++] = (struct way){.cost = {.off = place->off}};
            } else if (!find_ways(place, &columns[i + 1])) {
                return false;
            }
        }
    for (int j = columns[0].nplaces - 1; j >= 0; j--)
        for (int rank = 0; rank < columns[0].places[j].nways; rank++) {
            struct way way = {.cost = columns[0].places[j].ways[rank].cost, .next = j, .rank = rank};

            keep_best(best, &nbest, &way);
        }
    for (int i = 0; i < nbest; i++)
        take_set(work, columns, nstages, &best[i], &answer->sets[answer->nsets++]);
    return true;
}

int together_solve(struct work *work, const struct together_question *question,
                   struct together_answer *answer)
{
    size_t n = (size_t)question->nstages;
    struct column *columns = arena_alloc(work->arena, n, sizeof *columns);
    int status = 0;

    *answer = (struct together_answer){0};
    answer->trouble = arena_alloc(work->arena, n, sizeof *answer->trouble);
    answer->below = arena_alloc(work->arena, n, sizeof *answer->below);
    answer->above = arena_alloc(work->arena, n, sizeof *answer->above);
    answer->multiple = arena_alloc(work->arena, n, sizeof *answer->multiple);
    for (int i = 0; i < question->nstages; i++) {
        columns[i].places =
            arena_alloc(work->arena, TOGETHER_COUNTS_MAX, sizeof *columns[i].places);
        answer->trouble[i] = fill_column(question, i, answer, &columns[i]);
        if (answer->trouble[i] != TOGETHER_FINE && answer->trouble[i] != TOGETHER_FAR)
            status = -1;
        else if (answer->trouble[i] == TOGETHER_FAR && status == 0)
            status = 1;
    }
    if (status < 0 || question->nstages < 1)
        return -1;
    return solve(work, columns, question->nstages, answer) ? status : -1;
}
