/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A chart being changed a few squares at a time, and all that is wrong with it. What a square is uneven or unlike
 * by is asked of its neighbours; a corner is decided by the sixteen squares about it, so a changed square can turn
 * corners up to two squares away, and with them the lines there; floats and runs of colour are those of its row and
 * column; and parts are found anew where they may have changed.
 *
 * A new part comes from the old part it covers most of. So every old part should be owned once: owned more often
 * it was split, owned never it was joined to another, or lost.
 */
#include <string.h>

#include "resize_internal.h"

enum {
    CORNER_REACH = 2, /* links change no farther from a changed square */
    LINK_REACH = 3, /* a corner turns two squares away, and a line may step aside */
    TRY_WORK = 40,  /* squares looked at for each one changed, about */
    WHOLE_PART = 2  /* one looked at to find parts anew costs less, by this */
};

/* --- links near a square ------------------------------------------------------------------ */

/* Every new square near those over an old one. */
static void near_add(const struct resize_frame *frame, int old_c, int old_r, int link, int *last, int *count,
                     int *list)
{
    const struct resize_shape *shape = &frame->shape;
    int c = frame->x.new_first[old_c] - LINK_REACH, wide = frame->x.new_count[old_c] + 2 * LINK_REACH;
    int r = frame->y.new_first[old_r] - LINK_REACH, tall = frame->y.new_count[old_r] + 2 * LINK_REACH;

    for (int i = 0; i < tall; i++)
        for (int j = 0; j < (wide < shape->ncols ? wide : shape->ncols); j++) {
            int at = resize_square(shape, c + j, r + i);

            if (at < 0 || last[at] == link)
                continue;
            last[at] = link;
            if (list)
                list[count[at]] = link;
            count[at]++;
        }
}

static void near_pass(struct resize_state *state, int *last, int *count, int *list)
{
    const struct resize_frame *frame = state->frame;

    memset(last, -1, (size_t)frame->ncells * sizeof *last);
    for (int i = 0; i < frame->nlinks; i++) {
        const struct resize_link *link = &frame->links[i];

        near_add(frame, link->a_col, link->a_row, i, last, count, list);
        near_add(frame, link->b_col, link->b_row, i, last, count, list);
    }
}

static void near_set(struct resize_state *state)
{
    struct arena *arena = state->frame->work->arena;
    size_t n = (size_t)state->frame->ncells;
    int *last = arena_alloc(arena, n, sizeof *last), *fill = arena_alloc(arena, n, sizeof *fill);

    state->near_start = arena_alloc(arena, n + 1, sizeof *state->near_start);
    near_pass(state, last, state->near_start + 1, NULL);
    for (size_t i = 0; i < n; i++)
        state->near_start[i + 1] += state->near_start[i];
    memcpy(fill, state->near_start, n * sizeof *fill);
    state->near_link = arena_alloc(arena, (size_t)state->near_start[n], sizeof *state->near_link);
    near_pass(state, last, fill, state->near_link);
}

static int *ints(const struct resize_frame *frame, int count)
{
    return arena_alloc(frame->work->arena, (size_t)count, sizeof(int));
}

struct resize_state *resize_state_make(const struct resize_frame *frame, uint8_t *cell)
{
    struct arena *arena = frame->work->arena;
    struct resize_state *state = arena_alloc(arena, 1, sizeof *state);
    int n = frame->ncells, nlinks = frame->nlinks_all, nrows = frame->shape.nrows, ncols = frame->shape.ncols;

    *state = (struct resize_state){.frame = frame, .cell = cell};
    state->link_broken = ints(frame, nlinks);
    state->row_floats = ints(frame, nrows);
    state->row_runs = ints(frame, nrows);
    state->column_runs = ints(frame, ncols);
    state->parts = resize_parts_make(arena, &frame->shape);
    state->owner = ints(frame, n);
    state->owned = ints(frame, frame->parts.nparts);
    state->touched = ints(frame, frame->parts.nparts);
    state->lies = arena_alloc(arena, (size_t)frame->parts.nparts, sizeof *state->lies);
    state->painted = ints(frame, 2 * n);
    state->changed = ints(frame, 2 * n);
    state->was = arena_alloc(arena, 2 * (size_t)n, 1);
    state->is_changed = arena_alloc(arena, (size_t)n, 1);
    state->undo = arena_alloc(arena, (size_t)(nlinks + 2 * nrows + ncols), sizeof *state->undo);
    state->link_seen = ints(frame, nlinks);
    state->row_seen = ints(frame, nrows);
    state->column_seen = ints(frame, ncols);
    state->about = (struct resize_about){0, ints(frame, n), ints(frame, n), ints(frame, n),
                                         ints(frame, n), ints(frame, n), ints(frame, n)};
    near_set(state);
    return state;
}

/* --- parts ------------------------------------------------------------------------------------ */

/* Ties to the first. lies: all 0, and so again after. */
static int owner_of(struct resize_state *state, int part)
{
    const struct resize_frame *frame = state->frame;
    const struct resize_parts *parts = &state->parts;
    int64_t most = 0;
    int owner = -1;

    for (int at = parts->head[part]; at >= 0; at = parts->next[at]) {
        int from = at * frame->ncolours + state->cell[at];

        for (int u = frame->under_start[from]; u < frame->under_start[from + 1]; u++) {
            int old = frame->under[u].which;
            int64_t lies = state->lies[old] += frame->under[u].area;

            if (lies > most || (lies == most && old < owner)) {
                most = lies;
                owner = old;
            }
        }
    }
    for (int at = parts->head[part]; at >= 0; at = parts->next[at]) {
        int from = at * frame->ncolours + state->cell[at];

        for (int u = frame->under_start[from]; u < frame->under_start[from + 1]; u++) {
            state->lies[frame->under[u].which] = 0;
            state->touched[frame->under[u].which] = 1;
        }
    }
    return owner;
}

static void parts_judge(struct resize_state *state, struct resize_faults *faults)
{
    const struct resize_frame *frame = state->frame;
    size_t bytes = (size_t)frame->parts.nparts * sizeof(int);

    resize_parts_find(&state->parts, &frame->shape, state->cell);
    state->work += frame->ncells / WHOLE_PART;
    faults->split = faults->joined = faults->lost = faults->holes = 0;
    memset(state->owned, 0, bytes);
    memset(state->touched, 0, bytes);
    for (int part = 0; part < state->parts.nparts; part++) {
        int owner = owner_of(state, part);

        state->owner[part] = owner;
        if (owner < 0)
            faults->split++;
        else if (state->owned[owner]++ > 0)
            faults->split++;
    }
    for (int part = 0; part < frame->parts.nparts; part++)
        if (state->owned[part] == 0) {
            faults->joined += state->touched[part];
            faults->lost += !state->touched[part];
            faults->holes += !state->touched[part] && frame->is_hole[part];
        }
}

void resize_state_judge_parts(struct resize_state *state)
{
    parts_judge(state, &state->faults);
}

/* --- lines, floats, runs ------------------------------------------------------------------------ */

/* Known of it from now on, unless undone. */
static void know(struct resize_state *state, int *at, int value)
{
    state->undo[state->nundo++] = (struct resize_was){at, *at};
    *at = value;
}

static int link_broken(const struct resize_state *state, int link)
{
    return !resize_link_holds(state->frame, state->cell, &state->frame->links[link]);
}

static int row_floats(const struct resize_state *state, int row)
{
    const struct resize_frame *frame = state->frame;
    int over[GRID_YARNS_MAX], floats = 0;

    resize_row_over(frame, state->cell + (size_t)row * (size_t)frame->shape.ncols, frame->shape.ncols,
                    frame->question->leave_sts, over);
    for (int k = 0; k < frame->ncolours; k++) {
        int more = over[k] - frame->allowed_over[row * frame->ncolours + k];

        floats += more > 0 ? more : 0;
    }
    return floats;
}

static int runs_now(const struct resize_state *state, bool along, int number)
{
    const struct resize_shape *shape = &state->frame->shape;
    struct grid grid = {shape->nrows, shape->ncols, state->cell};

    return resize_runs(&grid, along, along || shape->ring, number);
}

/* Runs that old rows (columns) have beyond the new ones over or beside them. */
static int merged_in(const struct resize_axis *axis, const int *runs, bool ring, const int *old_runs)
{
    int merged = 0;

    for (int i = 0; i < axis->nold; i++) {
        int most = resize_runs_most(axis, runs, ring, i);

        merged += most < old_runs[i] ? old_runs[i] - most : 0;
    }
    return merged;
}

static int merged_all(const struct resize_state *state)
{
    const struct resize_frame *frame = state->frame;

    return merged_in(&frame->y, state->row_runs, frame->shape.ring, frame->row_runs) +
           merged_in(&frame->x, state->column_runs, true, frame->column_runs);
}

void resize_state_judge(struct resize_state *state)
{
    const struct resize_frame *frame = state->frame;
    struct resize_faults *faults = &state->faults;
    int each_twice = 0;

    parts_judge(state, faults);
    faults->lines = faults->floats = 0;
    for (int i = 0; i < frame->nlinks_all; i++)
        faults->lines += state->link_broken[i] = link_broken(state, i);
    for (int r = 0; r < frame->shape.nrows; r++) {
        faults->floats += state->row_floats[r] = row_floats(state, r);
        state->row_runs[r] = runs_now(state, true, r);
    }
    for (int c = 0; c < frame->shape.ncols; c++)
        state->column_runs[c] = runs_now(state, false, c);
    faults->merged = merged_all(state);
    faults->uneven = resize_even_all(frame, state->cell);
    for (int i = 0; i < frame->ncells; i++)
        each_twice += resize_own_about(frame, state->cell, i);
    faults->unlike = each_twice / 2;
}

/* --- do parts stay as they were? -------------------------------------------------------------

   Seen from the neighbourhood of a change. Links change at most two squares from a changed one. If among the squares
   so near those that were not changed hang together as before, and every changed one hung, and hangs, with one of
   them, then no part anywhere was split, joined, made or lost. Partners far from the squares painted have
   neighbourhoods that are images of theirs, and are not looked at. */

/* The colours before the change, and again those of it. */
static void colours_swap(struct resize_state *state)
{
    for (int i = 0; i < state->nchanged; i++) {
        uint8_t was = state->was[i];

        state->was[i] = state->cell[state->changed[i]];
        state->cell[state->changed[i]] = was;
    }
}

static bool about_add(struct resize_state *state, int c, int r)
{
    struct resize_about *about = &state->about;
    int at = resize_square(&state->frame->shape, c, r);

    if (at < 0 || about->seen[at] == state->stamp)
        return false;
    about->seen[at] = state->stamp;
    about->place[at] = about->n;
    about->square[about->n++] = at;
    return true;
}

/* Those about the squares painted, and about others changed that are among them. */
static void about_find(struct resize_state *state)
{
    int ncols = state->frame->shape.ncols;
    bool grew = true;

    state->about.n = 0;
    state->stamp++;
    for (int i = 0; i < state->npainted; i++)
        about_add(state, state->painted[i] % ncols, state->painted[i] / ncols);
    while (grew) {
        grew = false;
        for (int i = 0; i < state->nchanged; i++)
            if (state->about.seen[state->changed[i]] == state->stamp)
                for (int up = -CORNER_REACH; up <= CORNER_REACH; up++)
                    for (int side = -CORNER_REACH; side <= CORNER_REACH; side++)
                        grew |= about_add(state, state->changed[i] % ncols + side, state->changed[i] / ncols + up);
    }
}

/* What hangs together among them is called by the first of it that was not changed. Returned: false where a
 * changed one hangs together with none of those. */
static bool about_name(struct resize_state *state, int *name)
{
    struct resize_about *about = &state->about;
    const struct resize_shape *shape = &state->frame->shape;
    const uint8_t *cell = state->cell;

    for (int i = 0; i < about->n; i++)
        about->root[i] = i;
    for (int i = 0; i < about->n; i++) {
        int at = about->square[i], c = at % shape->ncols, r = at / shape->ncols;

        for (int k = 0; k < RESIZE_WAYS; k++) {
            int side = resize_ways[k][0], up = resize_ways[k][1], to = resize_square(shape, c + side, r + up);

            if (to >= 0 && about->seen[to] == state->stamp && cell[to] == cell[at] &&
                resize_hangs(shape, cell, c, r, side, up))
                resize_unite(about->root, i, about->place[to]);
        }
    }
    memset(name, -1, (size_t)about->n * sizeof *name);
    for (int i = 0; i < about->n; i++) {
        int root = resize_root(about->root, i);

        if (!state->is_changed[about->square[i]] && name[root] < 0)
            name[root] = i;
    }
    for (int i = about->n - 1; i >= 0; i--) {
        name[i] = name[resize_root(about->root, i)];
        if (name[i] < 0)
            return false;
    }
    return true;
}

static bool parts_stay(struct resize_state *state)
{
    struct resize_about *about = &state->about;
    bool same;

    about_find(state);
    if (!about_name(state, about->name))
        return false;
    colours_swap(state);
    same = about_name(state, about->name_before);
    colours_swap(state);
    for (int i = 0; i < about->n && same; i++)
        same = state->is_changed[about->square[i]] || about->name[i] == about->name_before[i];
    return same;
}

/* --- a change tried ---------------------------------------------------------------------- */

void resize_state_paint(struct resize_state *state, int at, uint8_t colour)
{
    const struct resize_frame *frame = state->frame;
    int orbit = frame->orbit_of[at];

    state->painted[state->npainted++] = at;
    for (int i = frame->orbit_start[orbit]; i < frame->orbit_start[orbit + 1]; i++) {
        int partner = frame->orbit_cell[i];

        state->uneven_more -= resize_even_about(frame, state->cell, partner);
        state->unlike_more -= resize_own_about(frame, state->cell, partner);
        state->changed[state->nchanged] = partner;
        state->was[state->nchanged++] = state->cell[partner];
        state->is_changed[partner] = 1;
        state->cell[partner] = colour;
        state->uneven_more += resize_even_about(frame, state->cell, partner);
        state->unlike_more += resize_own_about(frame, state->cell, partner);
    }
}

static void floats_look(struct resize_state *state, struct resize_faults *faults)
{
    for (int i = 0; i < state->nchanged; i++) {
        int row = state->changed[i] / state->frame->shape.ncols, now;

        if (state->row_seen[row] == state->stamp)
            continue;
        state->row_seen[row] = state->stamp;
        now = row_floats(state, row);
        faults->floats += now - state->row_floats[row];
        know(state, &state->row_floats[row], now);
    }
}

static void lines_look(struct resize_state *state, struct resize_faults *faults)
{
    for (int i = 0; i < state->nchanged; i++)
        for (int at = state->near_start[state->changed[i]]; at < state->near_start[state->changed[i] + 1]; at++) {
            int link = state->near_link[at], broken;

            if (state->link_seen[link] == state->stamp)
                continue;
            state->link_seen[link] = state->stamp;
            broken = link_broken(state, link);
            if (broken == state->link_broken[link])
                continue;
            faults->lines += (broken ? 1 : -1) * state->frame->links[link].times;
            know(state, &state->link_broken[link], broken);
        }
}

/* false: as many as before. */
static bool runs_count(struct resize_state *state, bool along, int number, int *runs, int *seen)
{
    int was = runs[number];

    if (seen[number] == state->stamp)
        return false;
    seen[number] = state->stamp;
    know(state, &runs[number], runs_now(state, along, number));
    return runs[number] != was;
}

static void runs_look(struct resize_state *state, struct resize_faults *faults)
{
    int ncols = state->frame->shape.ncols;
    bool other = false;

    state->stamp++; /* rows were seen for their floats */
    for (int i = 0; i < state->nchanged; i++) {
        other |= runs_count(state, true, state->changed[i] / ncols, state->row_runs, state->row_seen);
        other |= runs_count(state, false, state->changed[i] % ncols, state->column_runs, state->column_seen);
    }
    if (other)
        faults->merged = merged_all(state);
}

/* Perhaps they stay as they were; where all was in order they are as good as certain not to. */
static void parts_look(struct resize_state *state, struct resize_faults *faults)
{
    const struct resize_faults *now = &state->faults;

    state->parts_same = parts_stay(state);
    if (state->parts_same) {
        faults->split = now->split;
        faults->joined = now->joined;
        faults->lost = now->lost;
        faults->holes = now->holes;
    } else {
        faults->split = now->split + now->joined + now->lost == 0;
    }
}

void resize_state_look(struct resize_state *state, int look, struct resize_faults *faults)
{
    switch (look) {
    case 0:
        *faults = (struct resize_faults){.uneven = state->faults.uneven + state->uneven_more,
                                         .unlike = state->faults.unlike + state->unlike_more};
        break;
    case 1:
        state->work += TRY_WORK * state->nchanged;
        state->stamp++;
        faults->floats = state->faults.floats;
        faults->lines = state->faults.lines;
        floats_look(state, faults);
        lines_look(state, faults);
        break;
    case 2:
        faults->merged = state->faults.merged;
        runs_look(state, faults);
        break;
    case 3:
        parts_look(state, faults);
        break;
    default:
        if (!state->parts_same)
            parts_judge(state, faults);
    }
}

static void settle(struct resize_state *state)
{
    for (int i = 0; i < state->nchanged; i++)
        state->is_changed[state->changed[i]] = 0;
    state->npainted = state->nchanged = state->nundo = state->uneven_more = state->unlike_more = 0;
}

void resize_state_keep(struct resize_state *state, const struct resize_faults *faults)
{
    state->faults = *faults;
    settle(state);
}

void resize_state_undo(struct resize_state *state)
{
    while (state->nundo > 0) {
        const struct resize_was *was = &state->undo[--state->nundo];

        *was->at = was->was;
    }
    for (int i = state->nchanged - 1; i >= 0; i--)
        state->cell[state->changed[i]] = state->was[i];
    settle(state);
}
