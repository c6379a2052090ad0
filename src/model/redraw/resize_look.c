/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What is to be said of the new chart: where in the old one something could not be kept, and what is too crowded
 * there; where nothing broke, what is simpler than it was.
 */
#include "resize_internal.h"

/* Those marked. */
static struct resize_numbers numbers_of(const struct resize_frame *frame, const bool *marked, int n)
{
    struct resize_numbers numbers = {arena_alloc(frame->work->arena, (size_t)n, sizeof(int)), 0};

    for (int i = 0; i < n; i++)
        if (marked[i])
            numbers.number[numbers.count++] = i;
    return numbers;
}

/* Old rows and columns of which something is to be said. */
struct marks {
    bool *row, *column;
};

static struct marks marks_make(const struct resize_frame *frame)
{
    return (struct marks){arena_alloc(frame->work->arena, (size_t)frame->old.nrows, sizeof(bool)),
                          arena_alloc(frame->work->arena, (size_t)frame->old.ncols, sizeof(bool))};
}

static void mark(const struct resize_frame *frame, struct marks *marks, int old_square)
{
    marks->row[old_square / frame->old.ncols] = true;
    marks->column[old_square % frame->old.ncols] = true;
}

/* --- broken --------------------------------------------------------------------------------- */

/* Of the pieces of one old part all but the largest came off: everything old of their colour under them. */
static void mark_pieces(const struct resize_state *state, struct marks *marks)
{
    const struct resize_frame *frame = state->frame;
    const struct resize_parts *parts = &state->parts;
    struct arena *arena = frame->work->arena;
    int *size = arena_alloc(arena, (size_t)parts->nparts, sizeof *size);
    int *largest = arena_alloc(arena, (size_t)frame->parts.nparts, sizeof *largest); /* piece + 1 */
    struct resize_under *under = arena_alloc(arena, (size_t)frame->x.stride * (size_t)frame->y.stride, sizeof *under);

    for (int i = 0; i < frame->ncells; i++)
        size[parts->part[i]]++;
    for (int piece = 0; piece < parts->nparts; piece++) {
        int owner = state->owner[piece];

        if (owner >= 0 && (largest[owner] == 0 || size[piece] > size[largest[owner] - 1]))
            largest[owner] = piece + 1;
    }
    for (int i = 0; i < frame->ncells; i++) {
        int owner = state->owner[parts->part[i]], n = resize_frame_under(frame, i, under);

        for (int k = 0; owner >= 0 && largest[owner] != parts->part[i] + 1 && k < n; k++)
            if (frame->old.cell[under[k].which] == state->cell[i])
                mark(frame, marks, under[k].which);
    }
}

static void broken_find(const struct resize_state *state, struct resize_answer *answer)
{
    const struct resize_frame *frame = state->frame;
    const struct resize_axis *y = &frame->y;
    struct marks marks = marks_make(frame);
    bool *new_row = arena_alloc(frame->work->arena, (size_t)y->nnew, sizeof *new_row);

    for (int i = 0; i < frame->nlinks_all; i++)
        if (state->link_broken[i]) {
            mark(frame, &marks, frame->links[i].a_row * frame->old.ncols + frame->links[i].a_col);
            mark(frame, &marks, frame->links[i].b_row * frame->old.ncols + frame->links[i].b_col);
        }
    for (int i = 0; i < frame->old.ncols * frame->old.nrows; i++)
        if (state->owned[frame->parts.part[i]] == 0)
            mark(frame, &marks, i);
    mark_pieces(state, &marks);
    for (int i = 0; i < y->nnew; i++)
        for (int k = 0; k < y->count[i]; k++)
            new_row[i] = new_row[i] || marks.row[(y->first[i] + k) % y->nold];
    answer->broken_rows = numbers_of(frame, marks.row, frame->old.nrows);
    answer->broken_columns = numbers_of(frame, marks.column, frame->old.ncols);
    answer->broken_new_rows = numbers_of(frame, new_row, y->nnew);
}

/* --- simpler ------------------------------------------------------------------------------- */

static struct resize_simpler simpler_find(const struct resize_frame *frame, const struct resize_axis *axis,
                                          const int *runs, bool ring, const int *old_runs)
{
    struct resize_simpler simpler = {{arena_alloc(frame->work->arena, (size_t)axis->nold, sizeof(int)), 0}, 0, 0, 0};

    for (int i = 0; i < axis->nold; i++) {
        int now = resize_runs_most(axis, runs, ring, i);

        if (now >= old_runs[i])
            continue;
        simpler.at.number[simpler.at.count++] = i;
        if (old_runs[i] - now > simpler.was - simpler.now) {
            simpler.worst = i;
            simpler.was = old_runs[i];
            simpler.now = now;
        }
    }
    return simpler;
}

/* An end is a stitch, not of the ground, that hangs together with one other at most. Each part has one new one;
 * a short line (two ends) that is one stitch now has lost none. */
static void ends_find(const struct resize_state *state, struct resize_answer *answer)
{
    const struct resize_frame *frame = state->frame;
    const struct resize_parts *old = &frame->parts;
    struct arena *arena = frame->work->arena;
    int *was = arena_alloc(arena, (size_t)old->nparts, sizeof *was);
    int *now = arena_alloc(arena, (size_t)old->nparts, sizeof *now);
    int nold = frame->old.ncols * frame->old.nrows, list[8];
    bool *is_end = arena_alloc(arena, (size_t)nold, sizeof *is_end);
    struct marks marks = marks_make(frame);

    for (int i = 0; i < nold; i++) {
        is_end[i] = frame->old.cell[i] != frame->ground &&
                    resize_hanging(&frame->old_shape, frame->old.cell, i, list) <= 1;
        was[old->part[i]] += is_end[i];
    }
    for (int i = 0; i < frame->ncells; i++) {
        int part = state->owner[state->parts.part[i]], count = resize_hanging(&frame->shape, state->cell, i, list);

        if (count <= 1)
            now[part] += count == 0 && was[part] == 2 ? 2 : 1;
    }
    for (int part = 0; part < old->nparts; part++)
        answer->ends_lost += was[part] > now[part] ? was[part] - now[part] : 0;
    for (int i = 0; i < nold; i++)
        if (is_end[i] && was[old->part[i]] > now[old->part[i]])
            mark(frame, &marks, i);
    answer->ends_rows = numbers_of(frame, marks.row, frame->old.nrows);
}

/* --- all of it ------------------------------------------------------------------------------ */

static bool is_recognisable(const struct resize_state *state, int64_t area)
{
    const struct resize_frame *frame = state->frame;
    const struct resize_faults *faults = &state->faults;
    int64_t drawn = 0; /* area that is not ground */

    for (int i = 0; i < frame->old.ncols * frame->old.nrows; i++)
        drawn += frame->old.cell[i] != frame->ground ? 4 * (int64_t)frame->ncells : 0;
    return 2 * faults->lines <= frame->nlinks_all && 2 * (faults->joined + faults->lost) <= frame->parts.nparts &&
           (area < drawn || drawn == 0);
}

/* The chart in yarns, and the stitches that have another colour than covers most of them. */
static void chart_set(const struct resize_state *state, struct resize_answer *answer)
{
    const struct resize_frame *frame = state->frame;
    uint8_t *yarns = arena_alloc(frame->work->arena, (size_t)frame->ncells, 1);
    uint8_t *changed = arena_alloc(frame->work->arena, (size_t)frame->ncells, 1);

    for (int i = 0; i < frame->ncells; i++) {
        const int64_t *cost = frame->cost + (size_t)i * (size_t)frame->ncolours;

        yarns[i] = frame->yarn[state->cell[i]];
        changed[i] = cost[state->cell[i]] > cost[frame->best[i]];
        answer->nchanged += changed[i];
    }
    answer->changed = changed;
    answer->chart = (struct grid){frame->shape.nrows, frame->shape.ncols, yarns};
}

void resize_look_over(const struct resize_state *state, struct resize_answer *answer)
{
    const struct resize_frame *frame = state->frame;

    answer->faults = state->faults;
    answer->area = resize_frame_area(frame, state->cell);
    answer->recognisable = is_recognisable(state, answer->area);
    answer->bound = frame->bound;
    answer->square = frame->square;
    answer->x = frame->x;
    answer->y = frame->y;
    chart_set(state, answer);
    if (resize_faults_of_drawing(&state->faults) > 0) {
        broken_find(state, answer);
        return;
    }
    answer->simpler_rows = simpler_find(frame, &frame->y, state->row_runs, frame->shape.ring, frame->row_runs);
    answer->simpler_columns = simpler_find(frame, &frame->x, state->column_runs, true, frame->column_runs);
    /* on more stitches and rows a tip may be two wide, and is no less there */
    if (frame->shape.ncols < frame->old.ncols || frame->shape.nrows < frame->old.nrows)
        ends_find(state, answer);
}

/* --- too crowded ------------------------------------------------------------------------------ */

static uint8_t strip_at(const struct grid *old, bool along, int number, int i)
{
    return along ? old->cell[number * old->ncols + i % old->ncols]
                 : old->cell[i % old->nrows * old->ncols + number];
}

struct resize_crowd resize_crowd_find(const struct grid *old, const struct motif_line *line, bool along,
                                      bool ring, int number)
{
    struct resize_crowd worst = {0, 0, 0, 0};
    int n = along ? old->ncols : old->nrows;

    for (int from = 0; from < n; from++) {
        int runs = 1, most = ring ? n : n - from;

        for (int length = 1; length <= most; length++) {
            struct resize_span over = resize_span_over(n, line->count, line->phase, (struct resize_span){from, length});
            int room = over.length < line->count ? over.length : line->count, lack = worst.runs - worst.room;

            if (length > 1 && strip_at(old, along, number, from + length - 1) !=
                                  strip_at(old, along, number, from + length - 2))
                runs++;
            if (length == n && ring && runs > 1 &&
                strip_at(old, along, number, from) == strip_at(old, along, number, from + n - 1))
                continue; /* first and last are one run */
            if (runs - room > lack || (runs - room == lack && lack > 0 && length < worst.length))
                worst = (struct resize_crowd){from, length, runs, room};
        }
    }
    return worst;
}
