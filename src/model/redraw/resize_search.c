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
    WHOLE_MAX = 20000000,     /* and where the whole chart is looked at anew: twenty times what the examples take */
    BENT_PART = 20,           /* a motif is bent past knowing where more than half as much again as must, and
                                 a part in so many of the motif, is drawn otherwise */
    PASSES = 6,               /* over all single steps, in the end */
    WEIGHTS_A_SQUARE = 2,       /* what a long float weighs where something must be wrong; a fault of the drawing
                                 twice that: more than a lone stitch drawn where little of it lies */
    SMALL_PART = 4,           /* what an unevenness weighs, and a stitch unlike its partner: a stitch, by this */
    AIM_PERCENT = 115         /* of the bound, or a hundredth of the motif above it */
};

struct option {
    int orbit;
    uint8_t colour;
};

struct search {
    const struct resize_frame *frame;
    struct resize_sketch *sketch;
    uint8_t *best_cell;
    struct option *options;
    int noptions;
    uint64_t state;
    int64_t area, best_area;
    struct resize_faults best_faults;
    int64_t fault_price, warmth, aim;
};

static uint32_t roll(struct search *search)
{
    search->state = search->state * UINT64_C(6364136223846793005) + UINT64_C(1442695040888963407);
    return (uint32_t)(search->state >> 32);
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

static bool lies_near(const struct resize_frame *frame, int cell, int colour)
{
    int c = cell % frame->ncols, r = cell / frame->ncols;

    for (int up = -1; up <= 1; up++)
        for (int side = -1; side <= 1; side++) {
            int row = r + up;

            if (!frame->ring && (row < 0 || row >= frame->nrows))
                continue;
            row = (row + frame->nrows) % frame->nrows;
            row = row * frame->ncols + (c + side + frame->ncols) % frame->ncols;
            if (frame->cost[(size_t)row * (size_t)frame->ncolours + (size_t)colour] < frame->square)
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
        int cell = frame->orbit_cell[frame->orbit_start[o]], near = 0;

        for (int k = 0; k < frame->ncolours; k++)
            if (lies_near(frame, cell, k)) {
                search->options[search->noptions++] = (struct option){o, (uint8_t)k};
                near++;
            }
        if (near == 1) /* one colour all round: nothing to choose */
            search->noptions--;
    }
}

static uint8_t colour_of(const struct search *search, int orbit)
{
    return search->sketch->cell[search->frame->orbit_cell[search->frame->orbit_start[orbit]]];
}

static int64_t change(const struct search *search, int orbit, uint8_t colour)
{
    const struct resize_frame *frame = search->frame;
    int cell = frame->orbit_cell[frame->orbit_start[orbit]];
    const int64_t *cost = frame->cost + (size_t)cell * (size_t)frame->ncolours;
    int size = frame->orbit_start[orbit + 1] - frame->orbit_start[orbit];

    return size * (cost[colour] - cost[search->sketch->cell[cell]]);
}

/* The orbit of a square beside one of this, in one of nine ways, that has the colour; -1: it has not. */
static int partner(const struct search *search, int orbit, uint8_t colour, uint32_t way)
{
    const struct resize_frame *frame = search->frame;
    int cell = frame->orbit_cell[frame->orbit_start[orbit]];
    int side = (int)(way % 3) - 1, up = (int)(way / 3 % 3) - 1;
    int c = (cell % frame->ncols + side + frame->ncols) % frame->ncols, r = cell / frame->ncols + up;

    if (!frame->ring && (r < 0 || r >= frame->nrows))
        return -1;
    cell = (r + frame->nrows) % frame->nrows * frame->ncols + c;
    return search->sketch->cell[cell] == colour && frame->orbit_of[cell] != orbit ? frame->orbit_of[cell] : -1;
}

/* The parts were judged where they changed only: look at the whole before it counts. */
static void keep_if_best(struct search *search)
{
    struct resize_sketch *sketch = search->sketch;

    if (!resize_is_better(search->frame, &sketch->faults, search->area, &search->best_faults, search->best_area))
        return;
    resize_sketch_judge_parts(sketch);
    if (!resize_is_better(search->frame, &sketch->faults, search->area, &search->best_faults, search->best_area))
        return;
    search->best_faults = sketch->faults;
    search->best_area = search->area;
    memcpy(search->best_cell, sketch->cell, (size_t)search->frame->ncells);
}

/* What is to be painted in one step. */
struct strokes {
    int n;
    int orbit[2 * SEGMENT_MAX];
    uint8_t colour[2 * SEGMENT_MAX];
};

/* Its price in area; painted. */
static int64_t paint(struct search *search, const struct strokes *strokes)
{
    int64_t more = 0;

    for (int i = 0; i < strokes->n; i++) {
        more += change(search, strokes->orbit[i], strokes->colour[i]);
        resize_sketch_paint(search->sketch, strokes->orbit[i], strokes->colour[i]);
    }
    return more;
}

/* A stitch, by itself or changing places with one beside it. */
static void strokes_single(struct search *search, struct strokes *strokes)
{
    struct option option = search->options[roll(search) % (uint32_t)search->noptions];
    uint8_t was = colour_of(search, option.orbit);
    uint32_t way = roll(search) >> 16;
    int other = way & 1 ? partner(search, option.orbit, option.colour, way / 2) : -1;

    if (was == option.colour)
        return;
    *strokes = (struct strokes){1, {option.orbit, other}, {option.colour, was}};
    strokes->n = other >= 0 ? 2 : 1;
}

static void strokes_add(const struct search *search, struct strokes *strokes, int orbit, uint8_t colour)
{
    for (int i = 0; i < strokes->n; i++)
        if (strokes->orbit[i] == orbit)
            return; /* its own partner lies there, too */
    if (colour_of(search, orbit) != colour) {
        strokes->orbit[strokes->n] = orbit;
        strokes->colour[strokes->n++] = colour;
    }
}

/* Round the ring as often as it takes: a piece may be longer than a tiny chart. */
static int wrap(int at, int n)
{
    return (at % n + n) % n;
}

/* A piece of a column, row or slant and what lies beside it: the piece moved aside by one, or given the
 * colour beside it. */
static void strokes_segment(struct search *search, struct strokes *strokes)
{
    static const int ways[4][2] = {{0, 1}, {1, 0}, {1, 1}, {1, -1}};
    const struct resize_frame *frame = search->frame;
    struct option option = search->options[roll(search) % (uint32_t)search->noptions];
    int cell = frame->orbit_cell[frame->orbit_start[option.orbit]];
    uint32_t dice = roll(search) >> 12;
    const int *way = ways[dice % 4];
    int length = 2 + (int)(dice / 4 % (SEGMENT_MAX - 1)), side = dice / 64 % 2 ? 1 : -1;
    bool swap = dice / 128 % 2;
    int aside = way[1] != 0 ? side : 0, rise = way[1] == 0 ? side : 0;

    strokes->n = 0;
    for (int i = 0; i < length; i++) {
        int c = cell % frame->ncols + i * way[0], r = cell / frame->ncols + i * way[1];
        int here, beside;

        if (!frame->ring && (r < 0 || r >= frame->nrows || r + rise < 0 || r + rise >= frame->nrows))
            return;
        here = wrap(r, frame->nrows) * frame->ncols + wrap(c, frame->ncols);
        beside = wrap(r + rise, frame->nrows) * frame->ncols + wrap(c + aside, frame->ncols);
        strokes_add(search, strokes, frame->orbit_of[here], search->sketch->cell[beside]);
        if (swap)
            strokes_add(search, strokes, frame->orbit_of[beside], search->sketch->cell[here]);
    }
}

static void step(struct search *search)
{
    struct resize_sketch *sketch = search->sketch;
    struct strokes strokes = {0};
    int64_t worth = slack(search) + price(search, search->area, &sketch->faults), area, least;
    struct resize_faults faults;

    if (roll(search) >> 24 < SEGMENTS_IN_256)
        strokes_segment(search, &strokes);
    else
        strokes_single(search, &strokes);
    area = search->area + paint(search, &strokes);
    faults = resize_sketch_small(sketch);
    faults = (struct resize_faults){.uneven = faults.uneven, .unlike = faults.unlike};
    least = price(search, area, &faults);
    if (least > worth || strokes.n == 0 ||
        !resize_sketch_try(sketch, (worth - least) / search->fault_price, &faults) ||
        price(search, area, &faults) > worth) {
        resize_sketch_undo(sketch);
        return;
    }
    resize_sketch_keep(sketch, &faults);
    search->area = area;
    keep_if_best(search);
}

/* --- the last stitches --------------------------------------------------------------------------- */

/* Taken only where the chart as a whole is better for it. */
static bool improve(struct search *search, struct option option, int other)
{
    struct resize_sketch *sketch = search->sketch;
    uint8_t was = colour_of(search, option.orbit);
    int64_t area = search->area;
    struct resize_faults faults;
    int64_t most = resize_faults_weight(&sketch->faults);

    if (was == option.colour)
        return false;
    area += change(search, option.orbit, option.colour) + (other >= 0 ? change(search, other, was) : 0);
    resize_sketch_paint(sketch, option.orbit, option.colour);
    if (other >= 0)
        resize_sketch_paint(sketch, other, was);
    faults = resize_sketch_small(sketch);
    if (most == 0 && sketch->faults.merged == 0 && area >= search->area &&
        area + resize_faults_small(search->frame, &faults) >=
            search->area + resize_faults_small(search->frame, &sketch->faults)) {
        resize_sketch_undo(sketch);
        return false;
    }
    if (resize_sketch_try(sketch, most, &faults) &&
        resize_is_better(search->frame, &faults, area, &sketch->faults, search->area)) {
        resize_sketch_keep(sketch, &faults);
        search->area = area;
        keep_if_best(search);
        return true;
    }
    resize_sketch_undo(sketch);
    return false;
}

static void polish(struct search *search)
{
    bool improved = true;

    memcpy(search->sketch->cell, search->best_cell, (size_t)search->frame->ncells);
    search->area = search->best_area;
    resize_sketch_judge(search->sketch);
    search->sketch->work = 0;
    for (int pass = 0; pass < PASSES && improved; pass++) {
        improved = false;
        for (int i = 0; i < search->noptions && search->sketch->work < WORK_MAX / POLISH_PART &&
                        search->sketch->whole_work < WHOLE_MAX + WHOLE_MAX / POLISH_PART;
             i++)
            for (uint32_t way = 0; way < 9; way++) {
                struct option option = search->options[i];
                int other = way == 4 ? -1 : partner(search, option.orbit, option.colour, way);

                if (way == 4 || other >= 0)
                    improved |= improve(search, option, other);
            }
    }
}

void resize_search(const struct resize_frame *frame, struct resize_judge_room *room, uint8_t *cell,
                   uint64_t start)
{
    struct search search = {.frame = frame, .state = start + 1, .aim = start % 3 == 2 ? INT64_MAX : aim_of(frame)};
    int64_t orbit_size = (frame->ncells + frame->norbits - 1) / frame->norbits;
    int64_t tries;

    search.sketch = resize_sketch_make(frame, room, cell);
    search.best_cell = arena_alloc(frame->work->arena, (size_t)frame->ncells, 1);
    memcpy(search.best_cell, cell, (size_t)frame->ncells);
    search.area = search.best_area = resize_frame_area(frame, cell);
    search.best_faults = search.sketch->faults;
    options_list(&search);
    if (search.noptions == 0)
        return;
    tries = (int64_t)TRIES_AN_OPTION * search.noptions;
    tries = (tries < TRIES_MAX ? tries : TRIES_MAX) / STAGES + 1;
    search.warmth = frame->square * orbit_size / 3;
    /* every third start holds faults dearer, and area beyond the aim no dearer: where none need be, at a price */
    search.fault_price = frame->square * orbit_size * (start % 3 == 2 ? 3 : 1) / 4;
    for (int stage = 0; stage < STAGES; stage++) {
        search.sketch->work = 0;
        for (int64_t i = 0; i < tries && search.sketch->work < WORK_MAX / STAGES &&
                            search.sketch->whole_work < WHOLE_MAX;
             i++)
            step(&search);
        search.warmth = search.warmth * 7 / 8;
        search.fault_price = search.fault_price * 17 / 16;
    }
    polish(&search);
    memcpy(cell, search.best_cell, (size_t)frame->ncells);
}
