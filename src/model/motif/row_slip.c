/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Each move is held against the rows: where it misses more of them than one change of a row can
 * account for, it is left at once; else each change is tried of the rows it misses.
 */
#include "row_slip_parts.h"

#include <string.h>

#include "base/arena.h"
#include "base/work.h"

/* BROKEN_MAX: two rows changed, with those before and after them. */
enum { BROKEN_MAX = 6, OWN_MAX = 18, STEPS_MAX = 20000000 };

static void count_row(struct row_search *search, int row)
{
    const uint8_t *cell = row_slip_row(search, row);

    search->count[row] = 0;
    for (int column = 0; column < search->grid.ncols; column++)
        search->count[row] += cell[column] != search->field->ground;
    search->steps += search->grid.ncols;
}

/* Does every stitch of the row go to one of its yarn? */
static bool row_agrees(struct row_search *search, const struct symmetry *move, int row)
{
    int to = row_slip_partner(&search->tried, move, row);

    search->steps++;
    if (search->count[row] != (to < 0 ? 0 : search->count[to]))
        return false;
    for (int column = 0; column < search->grid.ncols && search->count[row] > 0; column++) {
        int r, c;
        uint8_t wanted = symmetry_partner(&search->tried, move, row, column, &r, &c)
                             ? row_slip_row(search, r)[c]
                             : search->field->ground;

        search->steps++;
        if (row_slip_row(search, row)[column] != wanted)
            return false;
    }
    return true;
}

static bool holds(struct row_search *search, const struct symmetry *move)
{
    for (int row = 0; row < search->grid.nrows; row++)
        if (!row_agrees(search, move, row))
            return false;
    return true;
}

/* --- as many rows ----------------------------------------------------------------------------- */

static void judge_if_kept(struct row_search *search, const struct symmetry *move,
                          const struct row_slip *slip)
{
    count_row(search, slip->row);
    if (slip->kind == ROW_SWAPPED)
        count_row(search, slip->row + 1);
    if (row_agrees(search, move, slip->row) && holds(search, move))
        row_slip_judge(search, move, *slip);
}

/* Back by a stitch; what comes in is the one that went out, or any other that the row has. */
static void try_shifts(struct row_search *search, const struct symmetry *move, int row)
{
    int ncols = search->grid.ncols;
    const uint8_t *was = search->field->grid->cell + (size_t)row * (size_t)ncols;
    uint8_t *now = row_slip_row(search, row);

    for (int stands = 1; stands >= -1; stands -= 2) {
        bool seen[256] = {false};
        int end = stands > 0 ? ncols - 1 : 0, first = stands > 0 ? 0 : ncols - 1;

        for (int i = -1; i < ncols; i++) {
            uint8_t comes = i < 0 ? was[first] : was[i];

            if (seen[comes])
                continue;
            seen[comes] = true;
            memmove(now + (stands < 0), was + (stands > 0), (size_t)(ncols - 1));
            now[end] = comes;
            judge_if_kept(search, move,
                          &(struct row_slip){.kind = ROW_SHIFTED, .row = row, .column = stands});
        }
    }
    memcpy(now, was, (size_t)ncols);
    count_row(search, row);
}

static void try_exchange(struct row_search *search, const struct symmetry *move, int row)
{
    int ncols = search->grid.ncols, i = 1;
    const uint8_t *was = search->field->grid->cell + (size_t)row * (size_t)ncols;
    uint8_t *now = row_slip_row(search, row);
    struct row_slip slip = {.kind = ROW_EXCHANGED, .row = row, .yarn = {was[0], was[0]}};

    while (i < ncols && was[i] == was[0])
        i++;
    if (i == ncols)
        return;
    slip.yarn[1] = was[i];
    for (i = 0; i < ncols && (was[i] == slip.yarn[0] || was[i] == slip.yarn[1]); i++)
        now[i] = slip.yarn[was[i] == slip.yarn[0]];
    if (i == ncols)
        judge_if_kept(search, move, &slip);
    memcpy(now, was, (size_t)ncols);
    count_row(search, row);
}

static void try_swap(struct row_search *search, const struct symmetry *move, int row)
{
    size_t ncols = (size_t)search->grid.ncols;
    const uint8_t *was;

    if (row < 0 || row + 1 >= search->grid.nrows)
        return;
    was = search->field->grid->cell + (size_t)row * ncols;
    if (memcmp(was, was + ncols, ncols) == 0)
        return;
    memcpy(row_slip_row(search, row), was + ncols, ncols);
    memcpy(row_slip_row(search, row + 1), was, ncols);
    judge_if_kept(search, move, &(struct row_slip){.kind = ROW_SWAPPED, .row = row});
    memcpy(row_slip_row(search, row), was, 2 * ncols);
    count_row(search, row);
    count_row(search, row + 1);
}

static void add_row(int *rows, int *nrows, int row)
{
    for (int i = 0; i < *nrows; i++)
        if (rows[i] == row)
            return;
    if (row >= 0 && *nrows < OWN_MAX)
        rows[(*nrows)++] = row;
}

/* Rows that are missed, or that such go to. Returned: how many; 0: more than one change can mend. */
static int list_missed(struct row_search *search, const struct symmetry *move, int *rows)
{
    int nmissed = 0, nrows = 0;

    for (int row = 0; row < search->grid.nrows; row++) {
        if (row_agrees(search, move, row))
            continue;
        if (++nmissed > BROKEN_MAX)
            return 0;
        add_row(rows, &nrows, row);
        add_row(rows, &nrows, row_slip_partner(&search->tried, move, row));
    }
    return nrows;
}

static void try_rows(struct row_search *search, const struct symmetry *move, int own)
{
    int rows[OWN_MAX], nrows = list_missed(search, move, rows);
    bool by_itself = move->kind == SYMMETRY_ACROSS && move->row == 0;

    (void)own; /* none is put in */
    for (int i = 0; i < nrows; i++) {
        try_shifts(search, move, rows[i]);
        if (by_itself)
            continue;
        try_exchange(search, move, rows[i]);
        for (int lower = rows[i] - 1; lower <= rows[i]; lower++)
            try_swap(search, move, lower);
    }
}

/* A move that brings rows of unlike counts to one another is none for any column. own: a row not to
 * be asked; -1. */
static bool counts_agree(const struct row_search *search, const struct symmetry *move, int own,
                         int missed_max)
{
    int missed = 0;

    for (int row = 0; row < search->grid.nrows && missed <= missed_max; row++) {
        int to = row_slip_partner(&search->tried, move, row);

        missed += row != own && (own < 0 || to != own) &&
                  search->count[row] != (to < 0 ? 0 : search->count[to]);
    }
    return missed <= missed_max;
}

static void every_move(struct row_search *search, int own, int missed_max,
                       void (*try)(struct row_search *, const struct symmetry *, int))
{
    for (int kind = 0; kind < SYMMETRY_KINDS; kind++) {
        struct symmetry move = symmetry_make((enum symmetry_kind)kind, 0, 0);
        int asked = -1;

        move.times = 0;
        while (search->open[kind] && search->steps < STEPS_MAX &&
               symmetry_next(&search->tried, false, &move)) {
            bool first = move.row != asked;

            asked = move.row;
            search->steps += first ? 1 + search->grid.nrows : 4;
            if (first && !counts_agree(search, &move, own, missed_max))
                move.column = 2 * GRID_SIDE_MAX; /* on to the next row */
            else
                try(search, &move, own);
        }
    }
}

/* --- one row more, or less ------------------------------------------------------------------ */

static void set_rows(struct row_search *search, int nrows)
{
    search->grid = (struct grid){nrows, search->field->grid->ncols, search->cell};
    search->tried = *search->field;
    search->tried.grid = &search->grid;
}

static void copy_rows(struct row_search *search, int to, int from, int nrows)
{
    size_t ncols = (size_t)search->grid.ncols;

    memcpy(row_slip_row(search, to), search->field->grid->cell + (size_t)from * ncols,
           (size_t)nrows * ncols);
    for (int row = to; row < to + nrows; row++)
        count_row(search, row);
}

/* All rows but that one, and what goes to it, keep the move; then it is made so that it does. */
static void try_missing(struct row_search *search, const struct symmetry *move, int own)
{
    int to = row_slip_partner(&search->tried, move, own), nrows = search->grid.nrows;

    if (to == own || to < 0 || (move->kind == SYMMETRY_ACROSS && move->row == 0))
        return;
    for (int row = 0; row < nrows; row++)
        if (row != own && row_slip_partner(&search->tried, move, row) != own &&
            !row_agrees(search, move, row))
            return;
    for (int column = 0; column < search->grid.ncols; column++) {
        int r, c;

        if (!symmetry_partner(&search->tried, move, own, column, &r, &c))
            return;
        row_slip_row(search, own)[column] = row_slip_row(search, r)[c];
    }
    count_row(search, own);
    if (holds(search, move))
        row_slip_judge(
            search, move,
            (struct row_slip){.kind = ROW_MISSING, .row = own, .like = to > own ? to - 1 : to});
}

/* The last of those from there up that are the same; the row itself where it is not their first. */
static int last_alike(const struct row_search *search, int row)
{
    const struct grid *grid = search->field->grid;
    size_t ncols = (size_t)grid->ncols;
    const uint8_t *own = grid->cell + (size_t)row * ncols;
    int last = row;

    if (row > 0 && memcmp(own, own - ncols, ncols) == 0)
        return row;
    while (last + 1 < grid->nrows &&
           memcmp(own, own + (size_t)(last + 1 - row) * ncols, ncols) == 0)
        last++;
    return last;
}

static void try_doubled(struct row_search *search, const struct symmetry *move, int put_in)
{
    int own = search->doubled;

    (void)put_in;
    if ((move->kind != SYMMETRY_ACROSS || move->row != 0) && holds(search, move))
        row_slip_judge(
            search, move,
            (struct row_slip){.kind = ROW_DOUBLED, .row = own, .last = last_alike(search, own)});
}

static void find_missing(struct row_search *search)
{
    int nrows = search->field->grid->nrows, last = search->field->ring_rows ? nrows - 1 : nrows;

    set_rows(search, nrows + 1);
    for (int own = 0; own <= last && search->steps < STEPS_MAX; own++) {
        copy_rows(search, 0, 0, own);
        copy_rows(search, own + 1, own, nrows - own);
        every_move(search, own, 0, try_missing);
    }
}

static void find_doubled(struct row_search *search)
{
    int nrows = search->field->grid->nrows;

    set_rows(search, nrows - 1);
    for (int own = 0; own + 1 < nrows && search->steps < STEPS_MAX; own++) {
        if (last_alike(search, own) == own)
            continue;
        copy_rows(search, 0, 0, own);
        copy_rows(search, own, own + 1, nrows - own - 1);
        search->doubled = own;
        every_move(search, -1, 0, try_doubled);
    }
}

/* --- all of it ------------------------------------------------------------------------------ */

static bool note_open(struct row_search *search)
{
    bool any = false;

    for (int kind = 0; kind < SYMMETRY_KINDS; kind++) {
        struct symmetry_wish wish = {.most_breaks = search->rule->breaks - 1};
        struct symmetry best;

        if (kind == SYMMETRY_ALONG) /* no slip of a whole row breaks it */
            continue;
        search->open[kind] = symmetry_best(search->work, search->field, (enum symmetry_kind)kind,
                                           &wish, &best) == SYMMETRY_NONE;
        any = any || search->open[kind];
    }
    return any;
}

static int common_multiple(int a, int b)
{
    int multiple = a;

    while (multiple % b != 0)
        multiple += a;
    return multiple;
}

static void begin(struct row_search *search)
{
    const struct grid *grid = search->field->grid;
    size_t ncols = (size_t)grid->ncols;

    search->cell = arena_alloc(search->scratch, ((size_t)grid->nrows + 1) * ncols, 1);
    search->count = arena_alloc(search->scratch, (size_t)grid->nrows + 1, sizeof *search->count);
    set_rows(search, grid->nrows);
    copy_rows(search, 0, 0, grid->nrows);
    search->period = 1;
    for (int row = 0; row < grid->nrows; row++)
        search->period = common_multiple(search->period,
                                         row_slip_period(row_slip_row(search, row), grid->ncols));
}

/* What was not searched to the end says nothing. Given, returned: how many were found before. */
static int close_search(struct row_search *search, int before)
{
    if (search->steps >= STEPS_MAX)
        search->nfound = before;
    search->steps = 0;
    return search->nfound;
}

int row_slips(struct work *work, const struct symmetry_field *field,
              const struct row_slip_rule *rule, struct row_slip slips[ROW_SLIPS_MAX])
{
    struct row_search search = {.work = work, .field = field, .rule = rule};
    int count;

    if (field->grid->nrows < 3 || field->grid->ncols < 3 || !note_open(&search))
        return 0;
    search.scratch = arena_branch(work->arena);
    begin(&search);
    every_move(&search, -1, BROKEN_MAX, try_rows);
    count = close_search(&search, 0);
    find_missing(&search);
    find_doubled(&search);
    close_search(&search, count);
    count = row_slip_choose(&search, slips);
    arena_destroy(search.scratch);
    return count;
}
