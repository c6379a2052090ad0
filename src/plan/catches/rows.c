/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rows.h"

#include <stdlib.h>
#include <string.h>

#include "base/arena.h"
#include "base/work.h"

enum { YARN_BITS = 6, YARN_MASK = GRID_YARNS_MAX - 1 };

/* --- stitches and catches ------------------------------------------------------------------ */

int plan_whole_columns(const struct plan_band *band)
{
    return band->right_knitted.ncols + band->repeats * band->knitted.ncols + band->left_knitted.ncols;
}

int plan_read_whole_row(const struct plan_band *band, int row, uint8_t *yarn_of, int *column_of)
{
    const struct grid *grids[3] = {&band->right_knitted, &band->knitted, &band->left_knitted};
    int n = 0, first = 0;

    for (int g = 0; g < 3; g++) {
        int times = g == 1 ? band->repeats : 1;

        for (int t = 0; t < times; t++, first += grids[g]->ncols)
            for (int c = 0; c < grids[g]->ncols; c++) {
                uint8_t yarn = grid_at(grids[g], row, c);

                if (yarn == GRID_NO_STITCH)
                    continue;
                if (column_of)
                    column_of[n] = first + c;
                yarn_of[n++] = yarn;
            }
    }
    return n;
}

struct plan_band plan_lone_repeat(const struct plan_band *band)
{
    struct plan_band lone = *band;

    lone.repeats = 1;
    lone.left_knitted.ncols = lone.right_knitted.ncols = 0;
    lone.outer = NULL;
    return lone;
}

struct marks {
    const struct catch_mark *mark;
    int64_t count;
};

/* The marks of one row: they lie together, in order of row. */
static struct marks marks_of_row(const struct catch_map *map, int row)
{
    struct marks found = {NULL, 0};
    int64_t low = 0, high;

    if (!map || !map->mark)
        return found;
    high = map->count;
    while (low < high) {
        int64_t middle = low + (high - low) / 2;

        if (map->mark[middle].row < row)
            low = middle + 1;
        else
            high = middle;
    }
    found.mark = map->mark + low;
    while (low + found.count < map->count && found.mark[found.count].row == row)
        found.count++;
    return found;
}

static int compare_marks(const void *a, const void *b)
{
    const struct catch_mark *p = a, *q = b;

    return p->column != q->column ? (p->column < q->column ? -1 : 1) : (int)p->strand - (int)q->strand;
}

const struct catch_mark *plan_row_catches(struct arena *arena, const struct plan_band *band, int row,
                                          int *count)
{
    struct marks inner = marks_of_row(band->catches, row), outer = marks_of_row(band->outer, row);
    struct catch_mark *worked;
    int n = 0;

    if (!band->outer) {
        *count = (int)inner.count;
        return inner.mark;
    }
    worked = arena_alloc(arena, (size_t)(inner.count * band->repeats + outer.count), sizeof *worked);
    for (int64_t i = 0; i < inner.count; i++) {
        struct catch_copies copies = catches_copies(&band->knitted, &inner.mark[i], band->repeats);

        for (int copy = copies.first; copy < copies.first + copies.count; copy++) {
            worked[n] = inner.mark[i];
            worked[n++].column += band->right_knitted.ncols + copy * band->knitted.ncols;
        }
    }
    for (int64_t i = 0; i < outer.count; i++)
        worked[n++] = outer.mark[i];
    qsort(worked, (size_t)n, sizeof *worked, compare_marks);
    *count = n;
    return worked;
}

/* --- as numbers ---------------------------------------------------------------------------- */

/* What is caught behind a stitch: bit y of sets.of[i]: yarn y; of[0] is 0. */
struct sets {
    uint64_t *of;
    int count;
};

/* A row of which each stitch is one number, so that alike means equal: the yarn, and above it which
 * of the sets. */
struct strip {
    uint32_t *code;
    int *column; /* which each stands in */
    int count;
    const struct sets *sets;
};

static void strip_catch(uint32_t *code, int strand, struct sets *sets)
{
    uint64_t wanted = sets->of[*code >> YARN_BITS] | UINT64_C(1) << (strand & YARN_MASK);
    int set = 0;

    while (set < sets->count && sets->of[set] != wanted)
        set++;
    if (set == sets->count)
        sets->of[sets->count++] = wanted;
    *code = (*code & YARN_MASK) | (uint32_t)set << YARN_BITS;
}

/* The row with its catches. sets: those there are, and room for all that its catches may make. */
static struct strip strip_read(struct work *work, const struct plan_band *band, int row,
                               const struct catch_mark *marks, int nmarks, struct sets *sets)
{
    size_t columns = (size_t)plan_whole_columns(band);
    uint8_t *yarn_of = arena_alloc(work->arena, columns, 1);
    struct strip strip = {arena_alloc(work->arena, columns, sizeof *strip.code),
                          arena_alloc(work->arena, columns, sizeof *strip.column), 0, sets};

    strip.count = plan_read_whole_row(band, row, yarn_of, strip.column);
    for (int i = 0; i < strip.count; i++)
        strip.code[i] = yarn_of[i] & YARN_MASK;
    for (int i = 0, at = 0; i < nmarks; i++) {
        while (at < strip.count && strip.column[at] < marks[i].column)
            at++;
        if (at < strip.count && strip.column[at] == marks[i].column)
            strip_catch(&strip.code[at], marks[i].strand, sets);
    }
    return strip;
}

/* Length of the shortest unit of which code[0..count) is made, whole times over. */
static int shortest_unit(struct work *work, const uint32_t *code, int count)
{
    int *border = arena_alloc(work->arena, (size_t)count + 1, sizeof *border);
    int length = 0;

    for (int i = 1; i < count; i++) {
        while (length > 0 && code[i] != code[length])
            length = border[length];
        if (code[i] == code[length])
            length++;
        border[i + 1] = length;
    }
    return count > 0 && count % (count - border[count]) == 0 ? count - border[count] : count;
}

static int count_catches(const struct strip *strip, int from, int to)
{
    int count = 0;

    for (int i = from; i < to; i++)
        for (uint64_t set = strip->sets->of[strip->code[i] >> YARN_BITS]; set; set &= set - 1)
            count++;
    return count;
}

static int add_catches(uint64_t set, int behind, struct row_catch *catches)
{
    int count = 0;

    for (int strand = 0; set; strand++, set >>= 1)
        if (set & 1)
            catches[count++] = (struct row_catch){strand, behind};
    return count;
}

/* Stitches from..to as runs of one yarn. Returned: the runs; *nruns of them. */
static const struct row_run *read_runs(struct work *work, const struct strip *strip, int from,
                                       int to, int *nruns)
{
    struct row_run *runs, *run = NULL;
    struct row_catch *catches;
    int count = 0;

    for (int i = from; i < to; i++)
        count += i == from || ((strip->code[i] ^ strip->code[i - 1]) & YARN_MASK) != 0;
    runs = arena_alloc(work->arena, (size_t)count, sizeof *runs);
    catches =
        arena_alloc(work->arena, (size_t)count_catches(strip, from, to), sizeof *catches);
    for (int i = from; i < to; i++) {
        int yarn = (int)(strip->code[i] & YARN_MASK);
        int added;

        if (!run || run->yarn != yarn) {
            run = run ? run + 1 : runs;
            *run = (struct row_run){.yarn = yarn, .catches = catches};
        }
        run->stitches++;
        added = add_catches(strip->sets->of[strip->code[i] >> YARN_BITS], run->stitches, catches);
        run->ncatches += added;
        catches += added;
    }
    *nruns = count;
    return runs;
}

static void list_yarns(const struct strip *strip, struct plan_row *out)
{
    uint64_t seen = 0;

    for (int i = 0; i < strip->count; i++) {
        int yarn = (int)(strip->code[i] & YARN_MASK);

        if (!(seen >> yarn & 1))
            out->yarns[out->nyarns++] = yarn;
        seen |= UINT64_C(1) << yarn;
    }
}

/* code[0..from) before, [from, to) in units of unit_sts, the rest after. */
static void set_parts(struct work *work, const struct strip *strip, int from, int to,
                      int unit_sts, int times, struct plan_row *out)
{
    out->before = read_runs(work, strip, 0, from, &out->nbefore);
    out->unit = read_runs(work, strip, from, from + unit_sts, &out->nunit);
    out->after = read_runs(work, strip, to, strip->count, &out->nafter);
    out->unit_stitches = unit_sts;
    out->times = times;
    if (times > 1 && out->nunit > 1 && out->unit[0].yarn == out->unit[out->nunit - 1].yarn) {
        out->join_yarn = out->unit[0].yarn;
        out->join_stitches = out->unit[0].stitches + out->unit[out->nunit - 1].stitches;
    }
}

/* A round in one yarn is one run: no repeat is counted in it. */
static void set_one_yarn(struct work *work, struct plan_row *out)
{
    struct row_run *run = arena_alloc(work->arena, 1, sizeof *run);

    if (out->nyarns == 0)
        return;
    *run = (struct row_run){.yarn = out->yarns[0], .stitches = out->stitches};
    out->unit = run;
    out->nunit = out->times = 1;
    out->unit_stitches = out->stitches;
}

/* In the round without a steek the ring of the repeat says all. */
static void set_ring(struct work *work, const struct plan_band *band, const struct strip *repeat,
                     struct plan_row *out)
{
    int unit_sts = shortest_unit(work, repeat->code, repeat->count);

    list_yarns(repeat, out);
    out->stitches = repeat->count * band->repeats;
    if (out->nyarns > 1)
        set_parts(work, repeat, 0, repeat->count, unit_sts, out->stitches / unit_sts, out);
    else
        set_one_yarn(work, out);
}

static void reverse(uint32_t *code, int count)
{
    for (int i = 0, j = count - 1; i < j; i++, j--) {
        uint32_t kept = code[i];

        code[i] = code[j];
        code[j] = kept;
    }
}

static bool is_alike(const struct strip *whole, int at, const struct strip *repeat, int stitches)
{
    return memcmp(whole->code + at, repeat->code, (size_t)stitches * sizeof *repeat->code) == 0;
}

/* The longest stretch of neighbouring copies with every catch of the repeat: *from copy, how many. */
static int longest_alike(const struct strip *whole, const struct strip *repeat, int start, int repeats,
                         int *from)
{
    int best = 0, length = 0;

    for (int copy = 0; copy < repeats; copy++) {
        length = is_alike(whole, start + copy * repeat->count, repeat, repeat->count) ? length + 1 : 0;
        if (length > best) {
            best = length;
            *from = copy - length + 1;
        }
    }
    return best;
}

/* The stretch [*from, *to) of the copies, which begin at start, that is made of whole units. */
static void find_units(const struct strip *whole, const struct strip *repeat, int start, int repeats,
                       int unit_sts, int *from, int *to)
{
    int end = start + repeats * repeat->count, first = 0;
    int alike = longest_alike(whole, repeat, start, repeats, &first);

    *from = start + first * repeat->count;
    *to = *from + alike * repeat->count;
    if (alike == 0)
        return;
    while (*from - unit_sts >= start && is_alike(whole, *from - unit_sts, repeat, unit_sts))
        *from -= unit_sts;
    while (*to + unit_sts <= end && is_alike(whole, *to, repeat, unit_sts))
        *to += unit_sts;
}

/* A row with two ends; a copy in its middle looks like `repeat`. */
static void set_open(struct work *work, const struct plan_band *band, const struct strip *whole,
                     const struct strip *repeat, struct plan_row *out)
{
    int unit_sts, start = 0, from = 0, to = 0;

    while (start < whole->count && whole->column[start] < band->right_knitted.ncols)
        start++;
    if (!out->right_side) {
        reverse(whole->code, whole->count);
        reverse(repeat->code, repeat->count);
        start = whole->count - start - band->repeats * repeat->count;
    }
    list_yarns(whole, out);
    out->stitches = whole->count;
    unit_sts = shortest_unit(work, repeat->code, repeat->count);
    if (unit_sts > 1)
        find_units(whole, repeat, start, band->repeats, unit_sts, &from, &to);
    if (unit_sts > 1 && to - from > unit_sts) {
        set_parts(work, whole, from, to, unit_sts, (to - from) / unit_sts, out);
        return;
    }
    unit_sts = out->nyarns > 1 ? shortest_unit(work, whole->code, whole->count) : whole->count;
    set_parts(work, whole, 0, whole->count, unit_sts, unit_sts > 0 ? whole->count / unit_sts : 0, out);
}

void plan_row_read(struct work *work, const struct plan *plan, const struct plan_band *band,
                   int row, int time, struct plan_row *out)
{
    bool open = !plan->round || plan->piece.cast_on.steek_sts > 0;
    int64_t first = band->first_round > 0 ? band->first_round : 1;
    int64_t round = first + (int64_t)time * band->rows + row;
    struct plan_band lone = plan_lone_repeat(band);
    int ninner, nworked;
    const struct catch_mark *inner = plan_row_catches(work->arena, &lone, row, &ninner);
    const struct catch_mark *worked = plan_row_catches(work->arena, band, row, &nworked);
    struct sets sets = {arena_alloc(work->arena, (size_t)(ninner + nworked) + 1, sizeof *sets.of), 1};
    struct strip repeat = strip_read(work, &lone, row, inner, ninner, &sets), whole;

    memset(out, 0, sizeof *out);
    out->row = row;
    out->right_side = plan->round || round % 2 == 1;
    for (int i = 0; i < band->ntight; i++)
        if (band->tight[i].row == row)
            out->tight |= UINT64_C(1) << band->tight[i].strand;
    if (!open) {
        set_ring(work, band, &repeat, out);
        return;
    }
    whole = strip_read(work, band, row, worked, nworked, &sets);
    set_open(work, band, &whole, &repeat, out);
}
