/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A chart changed a few squares at a time. A corner is decided by the sixteen squares about it, so
 * a changed square can turn corners up to two squares away, and with them the lines there; its own
 * row's floats; and the parts, which are judged anew only where they may have changed.
 */
#include <string.h>

#include "resize_internal.h"

enum { CORNER_REACH = 2, LINK_REACH = CORNER_REACH + 1 /* a line may step aside */, TRY_WORK = 40 /* squares looked at for each one changed, about */ };

/* --- links near a square ------------------------------------------------------------------ */

/* Every new square near those over an old one. */
static void near_add(const struct resize_frame *frame, int old_c, int old_r, int link, int *last, int *count,
                     int *list)
{
    int c = frame->x.new_first[old_c] - LINK_REACH, wide = frame->x.new_count[old_c] + 2 * LINK_REACH;
    int r = frame->y.new_first[old_r] - LINK_REACH, tall = frame->y.new_count[old_r] + 2 * LINK_REACH;

    if (frame->ring && tall > frame->nrows)
        tall = frame->nrows;
    for (int i = 0; i < tall; i++) {
        int row = r + i;

        if (!frame->ring && (row < 0 || row >= frame->nrows))
            continue;
        row = (row % frame->nrows + frame->nrows) % frame->nrows;
        for (int j = 0; j < (wide < frame->ncols ? wide : frame->ncols); j++) {
            int cell = row * frame->ncols + ((c + j) % frame->ncols + frame->ncols) % frame->ncols;

            if (last[cell] == link)
                continue;
            last[cell] = link;
            if (list)
                list[count[cell]] = link;
            count[cell]++;
        }
    }
}

static void near_pass(struct resize_sketch *sketch, int *last, int *count, int *list)
{
    const struct resize_frame *frame = sketch->frame;

    memset(last, -1, (size_t)frame->ncells * sizeof *last);
    for (int i = 0; i < frame->nlinks; i++) {
        const struct resize_link *link = &frame->links[i];

        near_add(frame, link->a_col, link->a_row, i, last, count, list);
        near_add(frame, link->b_col, link->b_row, i, last, count, list);
    }
}

static void near_set(struct resize_sketch *sketch)
{
    struct arena *arena = sketch->frame->work->arena;
    size_t n = (size_t)sketch->frame->ncells;
    int *last = arena_alloc(arena, n, sizeof *last), *fill = arena_alloc(arena, n, sizeof *fill);

    sketch->near_start = arena_alloc(arena, n + 1, sizeof *sketch->near_start);
    near_pass(sketch, last, sketch->near_start + 1, NULL);
    for (size_t i = 0; i < n; i++)
        sketch->near_start[i + 1] += sketch->near_start[i];
    memcpy(fill, sketch->near_start, n * sizeof *fill);
    sketch->near_link = arena_alloc(arena, (size_t)sketch->near_start[n], sizeof *sketch->near_link);
    near_pass(sketch, last, fill, sketch->near_link);
}

struct resize_sketch *resize_sketch_make(const struct resize_frame *frame, struct resize_judge_room *room,
                                         uint8_t *cell)
{
    struct arena *arena = frame->work->arena;
    struct resize_sketch *sketch = arena_alloc(arena, 1, sizeof *sketch);
    size_t n = (size_t)frame->ncells, nlinks = (size_t)frame->nlinks, nrows = (size_t)frame->nrows;

    *sketch = (struct resize_sketch){.frame = frame, .room = room, .cell = cell};
    sketch->line_broken = arena_alloc(arena, nlinks, 1);
    sketch->row_faults = arena_alloc(arena, nrows, sizeof *sketch->row_faults);
    sketch->seen = arena_alloc(arena, nlinks, sizeof *sketch->seen);
    sketch->changed = arena_alloc(arena, 2 * n, sizeof *sketch->changed);
    sketch->was = arena_alloc(arena, 2 * n, 1);
    sketch->mark = arena_alloc(arena, n, sizeof *sketch->mark);
    sketch->redone = arena_alloc(arena, nlinks, sizeof *sketch->redone);
    sketch->old_row = arena_alloc(arena, nrows, sizeof *sketch->old_row);
    sketch->old_row_faults = arena_alloc(arena, nrows, sizeof *sketch->old_row_faults);
    sketch->pieces = resize_pieces_make(frame, &room->parts, cell);
    sketch->runs = resize_runs_make(frame);
    near_set(sketch);
    resize_sketch_judge(sketch);
    return sketch;
}

void resize_sketch_judge_parts(struct resize_sketch *sketch)
{
    resize_parts_judge(sketch->frame, sketch->room, sketch->cell, &sketch->faults);
    resize_pieces_set(sketch->pieces);
    sketch->whole_work += sketch->frame->ncells;
}

void resize_sketch_judge(struct resize_sketch *sketch)
{
    const struct resize_frame *frame = sketch->frame;

    resize_sketch_judge_parts(sketch);
    sketch->faults.lines = sketch->faults.floats = 0;
    for (int i = 0; i < frame->nlinks; i++) {
        sketch->line_broken[i] = !resize_line_holds(frame, &sketch->room->parts, sketch->cell, &frame->links[i]);
        sketch->faults.lines += sketch->line_broken[i] ? frame->links[i].times : 0;
    }
    for (int r = 0; r < frame->nrows; r++)
        if (frame->row_times[r] > 0) {
            sketch->row_faults[r] = resize_row_faults(frame, sketch->cell, r);
            sketch->faults.floats += frame->row_times[r] * sketch->row_faults[r];
        }
    resize_even_judge(frame, sketch->cell, &sketch->faults);
    sketch->faults.merged = resize_runs_judge(sketch->runs, sketch->cell);
    resize_own_judge(frame, sketch->cell, &sketch->faults);
}

/* --- a change tried ---------------------------------------------------------------------- */

void resize_sketch_paint(struct resize_sketch *sketch, int orbit, uint8_t colour)
{
    const struct resize_frame *frame = sketch->frame;

    for (int i = frame->orbit_start[orbit]; i < frame->orbit_start[orbit + 1]; i++) {
        int cell = frame->orbit_cell[i];

        sketch->uneven_more -= resize_even_about(frame, sketch->cell, cell);
        sketch->unlike_more -= resize_own_about(frame, sketch->cell, cell);
        sketch->changed[sketch->nchanged] = cell;
        sketch->was[sketch->nchanged++] = sketch->cell[cell];
        sketch->mark[cell] = sketch->nchanged;
        sketch->cell[cell] = colour;
        sketch->uneven_more += resize_even_about(frame, sketch->cell, cell);
        sketch->unlike_more += resize_own_about(frame, sketch->cell, cell);
    }
}

static void corners_redo(const struct resize_sketch *sketch)
{
    const struct resize_frame *frame = sketch->frame;
    struct resize_parts *parts = &sketch->room->parts;

    for (int i = 0; i < sketch->nchanged; i++) {
        int c = sketch->changed[i] % frame->ncols, r = sketch->changed[i] / frame->ncols;

        for (int up = -CORNER_REACH; up < CORNER_REACH; up++) {
            int row = r + up;

            if (!frame->ring && (row < 0 || row >= frame->nrows))
                continue;
            row = (row % frame->nrows + frame->nrows) % frame->nrows;
            for (int side = -CORNER_REACH; side < CORNER_REACH; side++) {
                int col = ((c + side) % frame->ncols + frame->ncols) % frame->ncols;

                parts->diagonal[row * frame->ncols + col] = resize_parts_corner(parts, sketch->cell, col, row);
            }
        }
    }
}

static void lines_redo(struct resize_sketch *sketch, struct resize_faults *faults)
{
    sketch->stamp++;
    for (int i = 0; i < sketch->nchanged; i++) {
        int cell = sketch->changed[i];

        for (int at = sketch->near_start[cell]; at < sketch->near_start[cell + 1]; at++) {
            int link = sketch->near_link[at];
            bool broken;

            if (sketch->seen[link] == sketch->stamp)
                continue;
            sketch->seen[link] = sketch->stamp;
            broken = !resize_line_holds(sketch->frame, &sketch->room->parts, sketch->cell,
                                        &sketch->frame->links[link]);
            if (broken == (sketch->line_broken[link] != 0))
                continue;
            sketch->redone[sketch->nredone++] = link;
            sketch->line_broken[link] = broken;
            faults->lines += broken ? sketch->frame->links[link].times : -sketch->frame->links[link].times;
        }
    }
}

static bool row_is_redone(const struct resize_sketch *sketch, int row)
{
    for (int i = 0; i < sketch->nold_rows; i++)
        if (sketch->old_row[i] == row)
            return true;
    return false;
}

static void floats_redo(struct resize_sketch *sketch, struct resize_faults *faults)
{
    for (int i = 0; i < sketch->nchanged; i++) {
        int row = sketch->changed[i] / sketch->frame->ncols, now;

        if (sketch->frame->row_times[row] == 0 || row_is_redone(sketch, row))
            continue;
        sketch->old_row[sketch->nold_rows] = row;
        sketch->old_row_faults[sketch->nold_rows++] = sketch->row_faults[row];
        now = resize_row_faults(sketch->frame, sketch->cell, row);
        faults->floats += sketch->frame->row_times[row] * (now - sketch->row_faults[row]);
        sketch->row_faults[row] = now;
    }
}

struct resize_faults resize_sketch_small(const struct resize_sketch *sketch)
{
    struct resize_faults faults = sketch->faults;

    faults.uneven += sketch->uneven_more;
    faults.unlike += sketch->unlike_more;
    return faults;
}

bool resize_sketch_try(struct resize_sketch *sketch, int64_t most, struct resize_faults *faults)
{
    int of_parts = sketch->faults.split + sketch->faults.joined + sketch->faults.lost;
    struct resize_faults certain;

    *faults = resize_sketch_small(sketch);
    sketch->work += TRY_WORK * sketch->nchanged;
    floats_redo(sketch, faults);
    lines_redo(sketch, faults);
    certain = *faults;
    certain.split = certain.joined = certain.lost = certain.holes = 0;
    if (resize_faults_weight(&certain) > most)
        return false;
    sketch->runs_tried = true;
    faults->merged = resize_runs_change(sketch->runs, sketch->cell, sketch->changed, sketch->nchanged,
                                        sketch->faults.merged);
    if (resize_local_same(sketch))
        return resize_faults_weight(faults) <= most;
    certain.split++;
    if (of_parts == 0 && resize_faults_weight(&certain) > most)
        return false; /* all was in order: a part more or less is a fault; a hole's smaller weight is let go */
    corners_redo(sketch);
    sketch->corners_tried = true;
    sketch->work += resize_pieces_change(sketch->pieces, sketch->changed, sketch->nchanged, faults);
    return true;
}

static void forget(struct resize_sketch *sketch)
{
    for (int i = 0; i < sketch->nchanged; i++)
        sketch->mark[sketch->changed[i]] = 0;
    sketch->nchanged = sketch->nredone = sketch->nold_rows = 0;
    sketch->uneven_more = sketch->unlike_more = 0;
    sketch->corners_tried = sketch->runs_tried = false;
}

void resize_sketch_keep(struct resize_sketch *sketch, const struct resize_faults *faults)
{
    sketch->faults = *faults;
    corners_redo(sketch);
    resize_runs_settle(sketch->runs, sketch->changed, sketch->nchanged, true);
    sketch->whole_work += resize_pieces_keep(sketch->pieces, sketch->changed, sketch->nchanged);
    forget(sketch);
}

void resize_sketch_undo(struct resize_sketch *sketch)
{
    for (int i = sketch->nchanged - 1; i >= 0; i--)
        sketch->cell[sketch->changed[i]] = sketch->was[i];
    if (sketch->corners_tried) {
        corners_redo(sketch);
        resize_pieces_undo(sketch->pieces);
    }
    if (sketch->runs_tried)
        resize_runs_settle(sketch->runs, sketch->changed, sketch->nchanged, false);
    for (int i = 0; i < sketch->nredone; i++)
        sketch->line_broken[sketch->redone[i]] ^= 1;
    for (int i = 0; i < sketch->nold_rows; i++)
        sketch->row_faults[sketch->old_row[i]] = sketch->old_row_faults[i];
    forget(sketch);
}
