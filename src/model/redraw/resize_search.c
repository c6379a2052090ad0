/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * From a start to a better chart: a square and its partners are given another colour, or change
 * places with a square beside them; at first also where that is worse. The steps are drawn from a
 * fixed seed and counted, so that the same chart comes out everywhere.
 */
#include <string.h>

#include "resize_internal.h"

enum {
    SEGMENT_MAX = 6, SEGMENTS_IN_256 = 48,
    STAGES = 28,              /* of cooling */
    POLISH_PART = 4,          /* of the work may go into the last stitches */
    TRIES_AN_OPTION = 200, TRIES_MAX = 400000,
    WORK_MAX = 10000000,      /* squares looked at, about */
    BENT_PART = 20,           /* a motif is bent past knowing where more than half as much again as must, and
                                 a part in so many of the motif, is drawn otherwise */
    PASSES = 6,               /* over all single steps, in the end */
    WEIGHTS_A_SQUARE = 2,       /* what a long float weighs where something must be wrong; a fault of the drawing
                                 twice that: more than a lone stitch drawn where little of it lies */
    SMALL_PART = 4,           /* what an unevenness weighs, and a stitch unlike its partner: a stitch, by this */
    AIM_PERCENT = 115         /* of the bound, or a hundredth of the motif above it */
};

/* A square, with its partners, that may be given a colour. */
struct option {
    int at;
    uint8_t colour;
};

struct search {
    const struct resize_frame *frame;
    struct resize_state *state;
    uint8_t *best_cell;
    struct option *options;
    int noptions;
    uint64_t dice;
    int64_t area, best_area;
    struct resize_faults best_faults;
    int64_t fault_price, warmth, aim;
    int64_t worth; /* what the step being tried may cost */
};

static uint32_t roll(struct search *search)
{
    search->dice = search->dice * UINT64_C(6364136223846793005) + UINT64_C(1442695040888963407);
    return (uint32_t)(search->dice >> 32);
}

/* warmth times about -log2 of an even number in (0, 1): whole numbers, so alike everywhere. */
static int64_t slack(struct search *search)
{
    uint32_t dice = roll(search) | 1;
    int zeros = 0;

    while (!(dice & UINT32_C(0x80000000))) {
        dice <<= 1;
        zeros++;
    }
    return search->warmth * zeros + search->warmth * (int64_t)(UINT32_MAX - dice) / INT32_MAX;
}

/* Area beyond the aim counts double. */
static int64_t price(const struct search *search, int64_t area, const struct resize_faults *faults)
{
    return search->fault_price * resize_faults_weight(faults) + resize_faults_small(search->frame, faults) + area +
           (area > search->aim ? area - search->aim : 0);
}

/* 1.15 of the least there can be, or a hundredth of the motif above it. */
static int64_t aim_of(const struct resize_frame *frame)
{
    int64_t most = frame->bound * AIM_PERCENT / 100, hundredth = frame->bound + frame->square * frame->ncells / 100;

    return most > hundredth ? most : hundredth;
}

int64_t resize_faults_small(const struct resize_frame *frame, const struct resize_faults *faults)
{
    return frame->square * (faults->uneven + faults->merged + faults->unlike) / SMALL_PART;
}

/* Nothing is wrong, holes apart, 2 within the aim, 1 where the motif can still be known; else 0. */
static int rank_of(const struct resize_frame *frame, const struct resize_faults *faults, int64_t area)
{
    if (resize_faults_of_drawing(faults) + faults->floats > faults->holes)
        return 0;
    if (area <= aim_of(frame))
        return 2;
    return area <= frame->bound * 3 / 2 + frame->square * frame->ncells / BENT_PART;
}

bool resize_is_better(const struct resize_frame *frame, const struct resize_faults *a, int64_t a_area,
                      const struct resize_faults *b, int64_t b_area)
{
    int64_t of_a = resize_faults_weight(a), of_b = resize_faults_weight(b);
    int rank_a = rank_of(frame, a, a_area), rank_b = rank_of(frame, b, b_area);

    if (rank_a != rank_b)
        return rank_a > rank_b;
    a_area += frame->square * of_a / WEIGHTS_A_SQUARE + resize_faults_small(frame, a);
    b_area += frame->square * of_b / WEIGHTS_A_SQUARE + resize_faults_small(frame, b);
    return a_area < b_area || (a_area == b_area && of_a < of_b);
}

/* --- the steps there are ------------------------------------------------------------------- */

static bool lies_near(const struct resize_frame *frame, int at, int colour)
{
    int c = at % frame->shape.ncols, r = at / frame->shape.ncols;

    for (int up = -1; up <= 1; up++)
        for (int side = -1; side <= 1; side++) {
            int near = resize_square(&frame->shape, c + side, r + up);

            if (near >= 0 && frame->cost[(size_t)near * (size_t)frame->ncolours + (size_t)colour] < frame->square)
                return true;
        }
    return false;
}

static void options_list(struct search *search)
{
    const struct resize_frame *frame = search->frame;

    search->options = arena_alloc(frame->work->arena, (size_t)frame->norbits * (size_t)frame->ncolours,
                                  sizeof *search->options);
    for (int o = 0; o < frame->norbits; o++) {
        int at = frame->orbit_cell[frame->orbit_start[o]], near = 0;

        for (int k = 0; k < frame->ncolours; k++)
            if (lies_near(frame, at, k)) {
                search->options[search->noptions++] = (struct option){at, (uint8_t)k};
                near++;
            }
        if (near == 1) /* one colour all round: nothing to choose */
            search->noptions--;
    }
}

static int64_t change(const struct search *search, int at, uint8_t colour)
{
    const struct resize_frame *frame = search->frame;
    const int64_t *cost = frame->cost + (size_t)at * (size_t)frame->ncolours;
    int orbit = frame->orbit_of[at], size = frame->orbit_start[orbit + 1] - frame->orbit_start[orbit];

    return size * (cost[colour] - cost[search->state->cell[at]]);
}

/* A square beside one, in one of nine ways, that has the colour and is no partner; -1: there is none. */
static int beside_with(const struct search *search, int at, uint8_t colour, uint32_t way)
{
    const struct resize_frame *frame = search->frame;
    int to = resize_square(&frame->shape, at % frame->shape.ncols + (int)(way % 3) - 1,
                           at / frame->shape.ncols + (int)(way / 3 % 3) - 1);

    return to >= 0 && search->state->cell[to] == colour && frame->orbit_of[to] != frame->orbit_of[at] ? to : -1;
}

/* Which old part a part comes from was asked where parts changed only: look at the whole before it counts. */
static void keep_if_best(struct search *search)
{
    struct resize_state *state = search->state;

    if (!resize_is_better(search->frame, &state->faults, search->area, &search->best_faults, search->best_area))
        return;
    resize_state_judge_parts(state);
    if (!resize_is_better(search->frame, &state->faults, search->area, &search->best_faults, search->best_area))
        return;
    search->best_faults = state->faults;
    search->best_area = search->area;
    memcpy(search->best_cell, state->cell, (size_t)search->frame->ncells);
}

/* --- a step ---------------------------------------------------------------------------------- */

/* What is to be painted in it. */
struct strokes {
    int n;
    struct option of[2 * SEGMENT_MAX];
};

static void strokes_add(const struct search *search, struct strokes *strokes, int at, uint8_t colour)
{
    for (int i = 0; i < strokes->n; i++)
        if (search->frame->orbit_of[strokes->of[i].at] == search->frame->orbit_of[at])
            return; /* its own partner lies there, too */
    if (search->state->cell[at] != colour)
        strokes->of[strokes->n++] = (struct option){at, colour};
}

/* A stitch, by itself or changing places with one beside it. */
static void strokes_single(const struct search *search, struct strokes *strokes, struct option option, int other)
{
    strokes_add(search, strokes, option.at, option.colour);
    if (strokes->n > 0 && other >= 0)
        strokes_add(search, strokes, other, search->state->cell[option.at]);
}

/* A piece of a column, row or slant and what lies beside it: the piece moved aside by one, or given the
 * colour beside it. */
static void strokes_segment(const struct search *search, struct strokes *strokes, struct option option, uint32_t dice)
{
    static const int ways[4][2] = {{0, 1}, {1, 0}, {1, 1}, {1, -1}};
    const struct resize_shape *shape = &search->frame->shape;
    const uint8_t *cell = search->state->cell;
    const int *way = ways[dice % 4];
    int length = 2 + (int)(dice / 4 % (SEGMENT_MAX - 1)), side = dice / 64 % 2 ? 1 : -1;
    bool swap = dice / 128 % 2;
    int aside = way[1] != 0 ? side : 0, rise = way[1] == 0 ? side : 0;

    for (int i = 0; i < length; i++) {
        int c = option.at % shape->ncols + i * way[0], r = option.at / shape->ncols + i * way[1];
        int here = resize_square(shape, c, r), beside = resize_square(shape, c + aside, r + rise);

        if (here < 0 || beside < 0)
            return;
        strokes_add(search, strokes, here, cell[beside]);
        if (swap)
            strokes_add(search, strokes, beside, cell[here]);
    }
}

/* Painted, looked at as long as it may be worth it, and kept if it is. Each look finds no less wrong than the one
 * before. */
static bool attempt(struct search *search, const struct strokes *strokes,
                    bool (*is_worth)(const struct search *search, const struct resize_faults *faults, int64_t area))
{
    struct resize_state *state = search->state;
    struct resize_faults faults;
    int64_t area = search->area;
    bool worth = strokes->n > 0;

    for (int i = 0; i < strokes->n; i++) {
        area += change(search, strokes->of[i].at, strokes->of[i].colour);
        resize_state_paint(state, strokes->of[i].at, strokes->of[i].colour);
    }
    for (int look = 0; look < RESIZE_LOOKS && worth; look++) {
        resize_state_look(state, look, &faults);
        worth = is_worth(search, &faults, area);
    }
    if (!worth) {
        resize_state_undo(state);
        return false;
    }
    resize_state_keep(state, &faults);
    search->area = area;
    keep_if_best(search);
    return true;
}

static bool costs_little(const struct search *search, const struct resize_faults *faults, int64_t area)
{
    return price(search, area, faults) <= search->worth;
}

static void step(struct search *search)
{
    struct strokes strokes = {0};
    struct option option;

    search->worth = slack(search) + price(search, search->area, &search->state->faults);
    if (roll(search) >> 24 < SEGMENTS_IN_256) {
        option = search->options[roll(search) % (uint32_t)search->noptions];
        strokes_segment(search, &strokes, option, roll(search) >> 12);
    } else {
        uint32_t way;

        option = search->options[roll(search) % (uint32_t)search->noptions];
        way = roll(search) >> 16;
        strokes_single(search, &strokes, option,
                       way & 1 ? beside_with(search, option.at, option.colour, way / 2) : -1);
    }
    attempt(search, &strokes, costs_little);
}

/* --- the last stitches --------------------------------------------------------------------------- */

/* Only where the chart as a whole is better for it. */
static bool improves(const struct search *search, const struct resize_faults *faults, int64_t area)
{
    const struct resize_faults *now = &search->state->faults;

    return resize_faults_weight(faults) <= resize_faults_weight(now) &&
           resize_is_better(search->frame, faults, area, now, search->area);
}

static void polish(struct search *search)
{
    struct resize_state *state = search->state;
    bool improved = true;

    memcpy(state->cell, search->best_cell, (size_t)search->frame->ncells);
    search->area = search->best_area;
    resize_state_judge(state);
    state->work = 0;
    for (int pass = 0; pass < PASSES && improved; pass++) {
        improved = false;
        for (int i = 0; i < search->noptions && state->work < WORK_MAX / POLISH_PART; i++)
            for (uint32_t way = 0; way < 9; way++) {
                struct option option = search->options[i];
                int other = way == 4 ? -1 : beside_with(search, option.at, option.colour, way);
                struct strokes strokes = {0};

                if (way != 4 && other < 0)
                    continue;
                strokes_single(search, &strokes, option, other);
                improved |= attempt(search, &strokes, improves);
            }
    }
}

void resize_search(struct resize_state *state, uint64_t start)
{
    const struct resize_frame *frame = state->frame;
    struct search search = {.frame = frame, .state = state, .dice = start + 1,
                            .aim = start % 3 == 2 ? INT64_MAX : aim_of(frame)};
    int64_t orbit_size = (frame->ncells + frame->norbits - 1) / frame->norbits;
    int64_t tries;

    resize_state_judge(state);
    search.best_cell = arena_alloc(frame->work->arena, (size_t)frame->ncells, 1);
    memcpy(search.best_cell, state->cell, (size_t)frame->ncells);
    search.area = search.best_area = resize_frame_area(frame, state->cell);
    search.best_faults = state->faults;
    options_list(&search);
    if (search.noptions == 0)
        return;
    tries = (int64_t)TRIES_AN_OPTION * search.noptions;
    tries = (tries < TRIES_MAX ? tries : TRIES_MAX) / STAGES + 1;
    search.warmth = frame->square * orbit_size / 3;
    /* every third start holds faults dearer, and area beyond the aim no dearer: where none need be, at a price */
    search.fault_price = frame->square * orbit_size * (start % 3 == 2 ? 3 : 1) / 4;
    for (int stage = 0; stage < STAGES; stage++) {
        state->work = 0;
        for (int64_t i = 0; i < tries && state->work < WORK_MAX / STAGES; i++)
            step(&search);
        search.warmth = search.warmth * 7 / 8;
        search.fault_price = search.fault_price * 17 / 16;
    }
    polish(&search);
    memcpy(state->cell, search.best_cell, (size_t)frame->ncells);
    resize_state_judge(state);
}
