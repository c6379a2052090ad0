/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The floats that must be caught, and how they fall into parts that do not meet.
 *
 * A part is read in coordinates of its own (from its first row and column; of it and its mirror
 * image the one that comes first in order), so that the same motif is solved the same way
 * wherever it stands.
 */
#include "best_internal.h"

#include <stdlib.h>
#include <string.h>

#include "base/arena.h"
#include "base/work.h"

/* --- floats ---------------------------------------------------------------------------------- */

static int read_row(const struct grid *grid, int row, int *column, uint8_t *yarn_of)
{
    const uint8_t *cells = grid->cell + (size_t)row * (size_t)grid->ncols;
    int n = floats_row_columns(cells, grid->ncols, column);

    for (int i = 0; i < n; i++)
        yarn_of[i] = cells[column[i]];
    return n;
}

static void keep_float(struct work *work, const struct catch_rules *rules, int row,
                       const struct float_run *run, const int *column, int nstitches,
                       struct best_float *out)
{
    int *columns = arena_alloc(work->arena, (size_t)run->span_sts + 1, sizeof *columns);

    for (int p = 1; p <= run->span_sts; p++)
        columns[p] = column[(run->from + p) % nstitches];
    *out = (struct best_float){.row = row,
                               .span_sts = run->span_sts,
                               .fewest = floats_fewest_catches(run->span_sts, rules->leave_sts),
                               .yarn = run->yarn,
                               .column = columns,
                               .part = -1};
    out->may_spare = rules->spare && out->fewest + 1 <= run->span_sts - 2;
}

void best_list_floats(struct work *work, const struct grid *grid, const struct catch_rules *rules,
                      struct best_cloth *cloth)
{
    size_t ncols = (size_t)grid->ncols;
    int *column = arena_alloc(work->arena, ncols, sizeof *column);
    uint8_t *yarn_of = arena_alloc(work->arena, ncols, 1);
    struct float_run *runs = arena_alloc(work->arena, ncols + 2 * GRID_YARNS_MAX, sizeof *runs);
    int room = 0;

    *cloth = (struct best_cloth){.rules = rules, .nrows = grid->nrows, .ncols = grid->ncols};
    cloth->row_start = arena_alloc(work->arena, (size_t)grid->nrows + 1, sizeof(int));
    for (int row = 0; row < grid->nrows; row++) {
        int n = read_row(grid, row, column, yarn_of);
        int nruns = floats_of_row(yarn_of, n, FLOATS_RING, runs);

        cloth->row_start[row] = cloth->nfloats;
        for (int i = 0; i < nruns; i++) {
            if (runs[i].span_sts <= rules->leave_sts)
                continue;
            if (cloth->nfloats == room) {
                int more = room ? 2 * room : 256;

                cloth->floats = arena_grow(work->arena, cloth->floats, (size_t)room, (size_t)more,
                                           sizeof *cloth->floats);
                room = more;
            }
            keep_float(work, rules, row, &runs[i], column, n, &cloth->floats[cloth->nfloats++]);
        }
    }
    cloth->row_start[grid->nrows] = cloth->nfloats;
}

/* --- parts -------------------------------------------------------------------------------------- */

static int root_of(int *leader, int i)
{
    while (leader[i] != i) {
        leader[i] = leader[leader[i]];
        i = leader[i];
    }
    return i;
}

static void join(int *leader, int a, int b)
{
    a = root_of(leader, a);
    b = root_of(leader, b);
    if (a < b)
        leader[b] = a;
    else
        leader[a] = b;
}

/* Floats of one row over each column: first[c] and so on through next. Rebuilt row by row. */
struct columns_of_row {
    int *start;  /* [ncols + 1] */
    int *list;   /* float indices by column */
};

static void list_columns(const struct best_cloth *cloth, int row, struct columns_of_row *out, int *fill)
{
    int ncols = cloth->ncols;

    memset(out->start, 0, ((size_t)ncols + 1) * sizeof *out->start);
    for (int i = cloth->row_start[row]; i < cloth->row_start[row + 1]; i++)
        for (int p = 1; p <= cloth->floats[i].span_sts; p++)
            out->start[cloth->floats[i].column[p] + 1]++;
    for (int c = 0; c < ncols; c++)
        out->start[c + 1] += out->start[c];
    memcpy(fill, out->start, (size_t)ncols * sizeof *fill);
    for (int i = cloth->row_start[row]; i < cloth->row_start[row + 1]; i++)
        for (int p = 1; p <= cloth->floats[i].span_sts; p++)
            out->list[fill[cloth->floats[i].column[p]]++] = i;
}

static void join_within(const struct best_cloth *cloth, const struct columns_of_row *row, int *leader)
{
    for (int c = 0; c < cloth->ncols; c++)
        for (int i = row->start[c] + 1; i < row->start[c + 1]; i++)
            join(leader, row->list[i - 1], row->list[i]);
}

static void join_to_next(const struct best_cloth *cloth, int next, const struct columns_of_row *row,
                         int *leader)
{
    int reach = cloth->rules->stagger_cols - 1;

    for (int i = cloth->row_start[next]; i < cloth->row_start[next + 1]; i++)
        for (int p = 1; p <= cloth->floats[i].span_sts; p++)
            for (int away = -reach; away <= reach; away++) {
                int c = ((cloth->floats[i].column[p] + away) % cloth->ncols + cloth->ncols) %
                        cloth->ncols;

                for (int k = row->start[c]; k < row->start[c + 1]; k++)
                    join(leader, row->list[k], i);
            }
}

int best_find_parts(struct work *work, struct best_cloth *cloth)
{
    size_t ncols = (size_t)cloth->ncols;
    int *leader = arena_alloc(work->arena, (size_t)cloth->nfloats, sizeof *leader);
    int *fill = arena_alloc(work->arena, ncols, sizeof *fill);
    struct columns_of_row row;
    int nparts = 0;

    row.start = arena_alloc(work->arena, ncols + 1, sizeof *row.start);
    row.list = arena_alloc(work->arena, ncols * GRID_YARNS_MAX, sizeof *row.list);
    for (int i = 0; i < cloth->nfloats; i++)
        leader[i] = i;
    for (int r = 0; r < cloth->nrows; r++) {
        list_columns(cloth, r, &row, fill);
        join_within(cloth, &row, leader);
        if (r + 1 < cloth->nrows)
            join_to_next(cloth, r + 1, &row, leader);
        else if (cloth->rules->again_above)
            join_to_next(cloth, 0, &row, leader);
    }
    for (int i = 0; i < cloth->nfloats; i++)
        cloth->floats[i].part =
            root_of(leader, i) == i ? nparts++ : cloth->floats[root_of(leader, i)].part;
    return nparts;
}

/* --- coordinates of its own ------------------------------------------------------------------------ */

/* The longest empty stretch of a ring; no longer than `reach`: it goes all round, 0. */
static int longest_gap(const bool *used, int n, int reach)
{
    int longest = reach;

    for (int i = 0, gap = 0; i < 2 * n; i++) {
        gap = used[i % n] ? 0 : gap + 1;
        longest = gap > longest ? gap : longest;
    }
    return longest > reach ? longest : 0;
}

/* Does a stretch begin at i, after an empty one of that length? */
static bool begins_after(const bool *used, int n, int i, int gap)
{
    for (int k = 1; k <= gap; k++)
        if (used[((i - k) % n + n) % n])
            return false;
    return used[i];
}

static int compare_columns(const struct part_float *a, const struct part_float *b)
{
    int n = a->span_sts < b->span_sts ? a->span_sts : b->span_sts;

    for (int p = 1; p <= n; p++)
        if (a->column[p] != b->column[p])
            return a->column[p] < b->column[p] ? -1 : 1;
    return (a->span_sts > b->span_sts) - (a->span_sts < b->span_sts);
}

static int compare_floats(const void *one, const void *other)
{
    const struct part_float *a = one, *b = other;

    if (a->row != b->row)
        return a->row < b->row ? -1 : 1;
    if (compare_columns(a, b) != 0)
        return compare_columns(a, b);
    return (a->strand > b->strand) - (a->strand < b->strand);
}

/* Strands by number as they are met, so that the colours themselves do not count. */
static void number_strands(struct part *part)
{
    int number[256], n = 0;

    for (int i = 0; i < 256; i++)
        number[i] = -1;
    for (int i = 0; i < part->nfloats; i++) {
        uint8_t *strand = &part->floats[i].strand;

        if (number[*strand] < 0)
            number[*strand] = n++;
        *strand = (uint8_t)number[*strand];
    }
}

static void fill_part(struct work *work, const struct best_cloth *cloth, const int *members, int n,
                      int first_row, int first_column, bool mirrored, struct part *part)
{
    part->floats = arena_alloc(work->arena, (size_t)n, sizeof *part->floats);
    part->nfloats = n;
    part->mirrored = mirrored;
    for (int i = 0; i < n; i++) {
        const struct best_float *in = &cloth->floats[members[i]];
        struct part_float *out = &part->floats[i];
        int span = in->span_sts;

        *out = (struct part_float){.span_sts = span, .fewest = in->fewest, .may_spare = in->may_spare,
                                   .strand = in->yarn, .whole = members[i]};
        out->row = (in->row - first_row + cloth->nrows) % cloth->nrows;
        out->column = arena_alloc(work->arena, (size_t)span + 1, sizeof *out->column);
        for (int p = 1; p <= span; p++) {
            int c = (in->column[p] - first_column + cloth->ncols) % cloth->ncols;

            if (mirrored)
                out->column[span + 1 - p] = cloth->ncols - 1 - c;
            else
                out->column[p] = c;
        }
    }
    qsort(part->floats, (size_t)n, sizeof *part->floats, compare_floats);
    number_strands(part);
}

static int least_column(const struct part *part)
{
    int least = part->ncols;

    for (int i = 0; i < part->nfloats; i++)
        if (part->floats[i].column[1] < least)
            least = part->floats[i].column[1];
    return least;
}

static void shift_columns(struct part *part, int by)
{
    for (int i = 0; i < part->nfloats; i++)
        for (int p = 1; p <= part->floats[i].span_sts; p++)
            part->floats[i].column[p] -= by;
}

static int compare_parts(const struct part *a, const struct part *b)
{
    for (int i = 0; i < a->nfloats; i++) {
        int order = compare_floats(&a->floats[i], &b->floats[i]);

        if (order != 0)
            return order;
    }
    return 0;
}

/* The row of a part with the fewest floats; of equals the lowest. */
static int anchor_row(const struct best_cloth *cloth, const int *members, int n)
{
    int row = -1, fewest = n + 1;

    for (int i = 0, count = 0; i < n; i++) {
        count++;
        if (i + 1 < n && cloth->floats[members[i + 1]].row == cloth->floats[members[i]].row)
            continue;
        if (count < fewest) {
            fewest = count;
            row = cloth->floats[members[i]].row;
        }
        count = 0;
    }
    return row;
}

/* It goes all round and can be cut nowhere: of all ways to begin at a float of one row, to either
 * side, the one that comes first in order. */
static void read_ring(struct work *work, const struct best_cloth *cloth, const int *members, int n,
                      int first_row, struct part *part)
{
    int row = anchor_row(cloth, members, n);
    struct part one = *part;
    bool any = false;

    for (int i = 0; i < n; i++) {
        const struct best_float *span = &cloth->floats[members[i]];

        for (int mirrored = 0; span->row == row && mirrored < 2; mirrored++) {
            int first = mirrored ? (span->column[span->span_sts] + 1) % cloth->ncols : span->column[1];

            fill_part(work, cloth, members, n, first_row, first, mirrored, &one);
            if (!any || compare_parts(&one, part) < 0)
                *part = one;
            any = true;
        }
    }
}

/* --- the smallest piece of a ring that makes the whole ------------------------------------------- */

static int find_float(const struct part *part, const struct part_float *key)
{
    const struct part_float *found =
        bsearch(key, part->floats, (size_t)part->nfloats, sizeof *key, compare_floats);

    return found ? (int)(found - part->floats) : -1;
}

/* Does the part lie on itself when it is shifted by that many columns? column: room for a float. */
static bool repeats_by(const struct part *part, int by, int *column)
{
    for (int i = 0; i < part->nfloats; i++) {
        struct part_float key = part->floats[i];

        for (int p = 1; p <= key.span_sts; p++)
            column[p] = (key.column[p] + by) % part->ncols;
        key.column = column;
        if (find_float(part, &key) < 0)
            return false;
    }
    return true;
}

int best_ring_repeat(struct work *work, const struct part *part)
{
    int *column = arena_alloc(work->arena, (size_t)part->ncols + 1, sizeof *column);

    for (int by = 1; part->round_columns && by < part->ncols; by++)
        if (part->ncols % by == 0 && repeats_by(part, by, column))
            return by;
    return part->ncols;
}

/* Index in the tile of the float a float of the ring is a copy of. */
static int copy_of(const struct part *tile, const struct part_float *span, int *column)
{
    struct part_float key = *span;

    for (int p = 1; p <= key.span_sts; p++)
        column[p] = key.column[p] % tile->ncols;
    key.column = column;
    return find_float(tile, &key);
}

void best_read_tile(struct work *work, const struct part *part, int repeat, struct part *tile,
                    int *tile_float)
{
    int *column = arena_alloc(work->arena, (size_t)part->ncols + 1, sizeof *column);

    *tile = *part;
    tile->ncols = repeat;
    tile->nfloats = 0;
    tile->floats = arena_alloc(work->arena, (size_t)part->nfloats, sizeof *tile->floats);
    for (int i = 0; i < part->nfloats; i++) {
        const struct part_float *span = &part->floats[i];
        struct part_float *out;

        if (span->column[1] >= repeat)
            continue;
        out = &tile->floats[tile->nfloats++];
        *out = *span;
        out->column = arena_alloc(work->arena, (size_t)span->span_sts + 1, sizeof *out->column);
        for (int p = 1; p <= span->span_sts; p++)
            out->column[p] = span->column[p] % repeat;
    }
    qsort(tile->floats, (size_t)tile->nfloats, sizeof *tile->floats, compare_floats);
    for (int i = 0; i < part->nfloats; i++)
        tile_float[i] = copy_of(tile, &part->floats[i], column);
}

/* Every column from its first stitch to its last, what is no stitch among them. */
static void use_columns(const struct best_cloth *cloth, const struct best_float *span, bool *used)
{
    int from = span->column[1], to = span->column[span->span_sts];

    for (int c = from; c != to; c = (c + 1) % cloth->ncols)
        used[c] = true;
    used[to] = true;
}

/* Cut after a longest gap and read to either side: of all ways the one that comes first in order. */
static void read_cut(struct work *work, const struct best_cloth *cloth, const int *members, int n,
                     int first_row, const bool *used, int gap, struct part *part)
{
    struct part one = *part;
    bool any = false;

    for (int c = 0; c < cloth->ncols; c++) {
        if (!begins_after(used, cloth->ncols, c, gap))
            continue;
        for (int mirrored = 0; mirrored < 2; mirrored++) {
            fill_part(work, cloth, members, n, first_row, c, mirrored, &one);
            if (mirrored)
                shift_columns(&one, least_column(&one));
            if (!any || compare_parts(&one, part) < 0)
                *part = one;
            any = true;
        }
    }
}

static int first_row_of(const struct best_cloth *cloth, const int *members, const bool *rows)
{
    int gap = longest_gap(rows, cloth->nrows, 0);

    if (!cloth->rules->again_above)
        return cloth->floats[members[0]].row;
    for (int r = 0; r < cloth->nrows && gap > 0; r++)
        if (begins_after(rows, cloth->nrows, r, gap))
            return r;
    return -1;
}

void best_read_part(struct work *work, const struct best_cloth *cloth, const int *members, int n,
                    struct part *part)
{
    bool *rows = arena_alloc(work->arena, (size_t)cloth->nrows, sizeof *rows);
    bool *columns = arena_alloc(work->arena, (size_t)cloth->ncols, sizeof *columns);
    int first_row, gap;

    *part = (struct part){.nrows = cloth->nrows, .ncols = cloth->ncols};
    for (int i = 0; i < n; i++) {
        rows[cloth->floats[members[i]].row] = true;
        use_columns(cloth, &cloth->floats[members[i]], columns);
    }
    first_row = first_row_of(cloth, members, rows);
    part->round_rows = first_row < 0;
    first_row = first_row < 0 ? 0 : first_row;
    part->alone = part->round_rows && cloth->nrows == 1;
    gap = longest_gap(columns, cloth->ncols, cloth->rules->stagger_cols);
    part->round_columns = gap == 0;
    if (part->round_columns)
        read_ring(work, cloth, members, n, first_row, part);
    else
        read_cut(work, cloth, members, n, first_row, columns, gap, part);
}

struct part *best_keep_part(struct work *work, const struct part *part)
{
    struct part *copy = arena_alloc(work->arena, 1, sizeof *copy);

    *copy = *part;
    copy->floats = arena_grow(work->arena, part->floats, (size_t)part->nfloats, (size_t)part->nfloats,
                              sizeof *part->floats);
    for (int i = 0; i < part->nfloats; i++) {
        size_t room = (size_t)part->floats[i].span_sts + 1;

        copy->floats[i].column =
            arena_grow(work->arena, part->floats[i].column, room, room, sizeof(int));
    }
    return copy;
}
