/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Whether a change leaves the parts as they were, seen from its neighbourhood.
 *
 * Links change at most two squares from a changed one. If among the squares so near those that were not changed
 * hang together as before, and every changed one hung, and hangs, with one of them, then no part anywhere was
 * split, joined, made or lost. Partners far from the squares painted have neighbourhoods that are images of
 * theirs, and are not looked at.
 */
#include <string.h>

#include "resize_internal.h"

enum { REACH = 2 };

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
                for (int up = -REACH; up <= REACH; up++)
                    for (int side = -REACH; side <= REACH; side++)
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

bool resize_local_same(struct resize_state *state)
{
    struct resize_about *about = &state->about;
    bool same;

    about_find(state);
    if (!about_name(state, about->name))
        return false;
    resize_state_swap(state);
    same = about_name(state, about->name_before);
    resize_state_swap(state);
    for (int i = 0; i < about->n && same; i++)
        same = state->is_changed[about->square[i]] || about->name[i] == about->name_before[i];
    return same;
}
