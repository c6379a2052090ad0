/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rows.h"

#include <string.h>

#include "base/arena.h"
#include "base/work.h"

enum { YARN_BITS = 6, YARN_MASK = GRID_YARNS_MAX - 1 };

/* A stitch and what is caught behind it, as one number, so that alike means equal: the yarn,
 * and above it which of `sets` (0: nothing is caught). */
struct strip {
    uint32_t *code;
    int count;
    uint64_t *sets; /* sets[i]: bit y: yarn y is caught; sets[0] is 0 */
    int nsets;
};

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

static void strip_catch(struct strip *strip, int stitch, int strand)
{
    uint32_t code = strip->code[stitch];
    uint64_t wanted = strip->sets[code >> YARN_BITS] | UINT64_C(1) << (strand & YARN_MASK);
    int set = 0;

    while (set < strip->nsets && strip->sets[set] != wanted)
        set++;
    if (set == strip->nsets)
        strip->sets[strip->nsets++] = wanted;
    strip->code[stitch] = (code & YARN_MASK) | (uint32_t)set << YARN_BITS;
}

/* Appends the stitches of one row of a grid. index (may be NULL): stitch of each column within
 * what was appended, -1 for an empty square. Returned: stitches appended. */
static int strip_append(struct strip *strip, const struct grid *grid, int row, int *index)
{
    const uint8_t *cell = grid->ncols > 0 ? grid->cell + (size_t)row * (size_t)grid->ncols : NULL;
    int from = strip->count;

    for (int column = 0; column < grid->ncols; column++) {
        bool stitch = cell[column] != GRID_NO_STITCH;

        if (index)
            index[column] = stitch ? strip->count - from : -1;
        if (stitch)
            strip->code[strip->count++] = cell[column] & YARN_MASK;
    }
    return strip->count - from;
}

static struct strip strip_create(struct work *work, int64_t stitches, int64_t nmarks)
{
    struct strip strip = {0};

    strip.code = arena_alloc(work->arena, (size_t)stitches, sizeof *strip.code);
    strip.sets = arena_alloc(work->arena, (size_t)nmarks + 1, sizeof *strip.sets);
    strip.nsets = 1;
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
        for (uint64_t set = strip->sets[strip->code[i] >> YARN_BITS]; set; set &= set - 1)
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
        added = add_catches(strip->sets[strip->code[i] >> YARN_BITS], run->stitches, catches);
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
static void read_ring(struct work *work, const struct plan_band *band, int row,
                      struct plan_row *out)
{
    struct marks marks = marks_of_row(band->catches, row);
    struct strip strip = strip_create(work, band->knitted.ncols, marks.count);
    int *index = arena_alloc(work->arena, (size_t)band->knitted.ncols, sizeof *index);
    int unit_sts;

    strip_append(&strip, &band->knitted, row, index);
    for (int64_t i = 0; i < marks.count; i++)
        strip_catch(&strip, index[marks.mark[i].column], marks.mark[i].strand);
    list_yarns(&strip, out);
    out->stitches = strip.count * band->repeats;
    unit_sts = shortest_unit(work, strip.code, strip.count);
    if (out->nyarns > 1) {
        set_parts(work, &strip, 0, strip.count, unit_sts, out->stitches / unit_sts, out);
    } else {
        set_one_yarn(work, out);
    }
}

/* An open row while it is put together: right side stitches, the copies, left ones. */
struct open_row {
    struct strip strip;
    int right_sts, repeat_sts, left_sts;
    int *right_index, *repeat_index, *left_index;
    uint32_t *ring; /* the repeat with every catch of the ring: what a middle copy looks like */
};

/* The catches of the ring stand in a copy where both ends of their float lie inside the
 * repeats: everywhere but before a yarn's first stitch and after its last. */
static void catch_copies(struct open_row *open, const struct plan_band *band, struct marks marks)
{
    struct strip *strip = &open->strip;
    int first[GRID_YARNS_MAX], last[GRID_YARNS_MAX];
    int repeats = band->repeats, n = open->repeat_sts;

    for (int yarn = 0; yarn < GRID_YARNS_MAX; yarn++)
        first[yarn] = last[yarn] = -1;
    for (int i = 0; i < n; i++) {
        int yarn = (int)(strip->code[open->right_sts + i] & YARN_MASK);

        first[yarn] = first[yarn] < 0 ? i : first[yarn];
        last[yarn] = i;
    }
    for (int64_t i = 0; i < marks.count; i++) {
        int strand = marks.mark[i].strand & YARN_MASK;
        int stitch = open->repeat_index[marks.mark[i].column];
        int from = first[strand] >= 0 && stitch > first[strand] ? 0 : 1;
        int to = stitch < last[strand] ? repeats : repeats - 1;

        for (int copy = from; copy < to; copy++)
            strip_catch(strip, open->right_sts + copy * n + stitch, strand);
    }
}

/* Columns of the whole row count on from the right side stitches through every copy. */
static int open_stitch_at(const struct open_row *open, const struct plan_band *band, int column)
{
    int copy, stitch, within;

    if (column < band->right_knitted.ncols)
        return open->right_index[column];
    column -= band->right_knitted.ncols;
    copy = column / band->knitted.ncols;
    if (copy < band->repeats) {
        within = open->repeat_index[column % band->knitted.ncols];
        return within < 0 ? -1 : open->right_sts + copy * open->repeat_sts + within;
    }
    column -= band->repeats * band->knitted.ncols;
    stitch = column < band->left_knitted.ncols ? open->left_index[column] : -1;
    return stitch < 0 ? -1 : open->right_sts + band->repeats * open->repeat_sts + stitch;
}

static struct open_row open_row_read(struct work *work, const struct plan_band *band, int row)
{
    struct marks inner = marks_of_row(band->catches, row);
    struct marks outer = marks_of_row(band->outer, row);
    /* a catch may look new in the ring and in the first, middle and last copy: four sets each */
    const struct grid *right = &band->right_knitted, *left = &band->left_knitted;
    int ncols = band->knitted.ncols;
    struct open_row open = {0};
    int *index = arena_alloc(work->arena, (size_t)(right->ncols + ncols + left->ncols),
                             sizeof *index);
    struct strip *strip = &open.strip;

    *strip = strip_create(work,
                          (int64_t)right->ncols + (int64_t)ncols * band->repeats + left->ncols,
                          4 * inner.count + outer.count);
    open.right_index = index;
    open.repeat_index = index + right->ncols;
    open.left_index = index + right->ncols + ncols;
    open.right_sts = strip_append(strip, right, row, open.right_index);
    for (int copy = 0; copy < band->repeats; copy++)
        open.repeat_sts = strip_append(strip, &band->knitted, row, open.repeat_index);
    open.left_sts = strip_append(strip, left, row, open.left_index);

    open.ring = arena_alloc(work->arena, (size_t)open.repeat_sts, sizeof *open.ring);
    if (open.repeat_sts > 0) {
        struct strip ring = {.code = open.ring, .sets = strip->sets, .nsets = strip->nsets};

        memcpy(open.ring, strip->code + open.right_sts,
               (size_t)open.repeat_sts * sizeof *open.ring);
        for (int64_t i = 0; i < inner.count; i++)
            strip_catch(&ring, open.repeat_index[inner.mark[i].column], inner.mark[i].strand);
        strip->nsets = ring.nsets;
        catch_copies(&open, band, inner);
    }
    for (int64_t i = 0; i < outer.count; i++) {
        int stitch = open_stitch_at(&open, band, outer.mark[i].column);

        if (stitch >= 0)
            strip_catch(strip, stitch, outer.mark[i].strand);
    }
    return open;
}

static void reverse(uint32_t *code, int count)
{
    for (int i = 0, j = count - 1; i < j; i++, j--) {
        uint32_t kept = code[i];

        code[i] = code[j];
        code[j] = kept;
    }
}

/* The longest stretch of neighbouring copies that look like `ring`: *from copy, how many. */
static int longest_alike(const struct open_row *open, int start, int repeats, int *from)
{
    size_t bytes = (size_t)open->repeat_sts * sizeof *open->ring;
    int best = 0, length = 0;

    for (int copy = 0; copy < repeats; copy++) {
        const uint32_t *code = open->strip.code + start + copy * open->repeat_sts;

        length = memcmp(code, open->ring, bytes) == 0 ? length + 1 : 0;
        if (length > best) {
            best = length;
            *from = copy - length + 1;
        }
    }
    return best;
}

/* Where the copies begin and end, and the stretch [*from, *to) that is made of whole units. */
static void find_units(const struct open_row *open, int start, int repeats, int unit_sts,
                       int *from, int *to)
{
    const struct strip *strip = &open->strip;
    size_t bytes = (size_t)unit_sts * sizeof *open->ring;
    int end = start + repeats * open->repeat_sts;
    int first = 0;
    int alike = longest_alike(open, start, repeats, &first);

    *from = start + first * open->repeat_sts;
    *to = *from + alike * open->repeat_sts;
    if (alike == 0)
        return;
    while (*from - unit_sts >= start &&
           memcmp(strip->code + *from - unit_sts, open->ring, bytes) == 0)
        *from -= unit_sts;
    while (*to + unit_sts <= end && memcmp(strip->code + *to, open->ring, bytes) == 0)
        *to += unit_sts;
}

static void read_open(struct work *work, const struct plan_band *band, int row,
                      struct plan_row *out)
{
    struct open_row open = open_row_read(work, band, row);
    struct strip *strip = &open.strip;
    int start = open.right_sts;
    int unit_sts, from = 0, to = 0;

    if (!out->right_side) {
        reverse(strip->code, strip->count);
        reverse(open.ring, open.repeat_sts);
        start = open.left_sts;
    }
    list_yarns(strip, out);
    out->stitches = strip->count;
    unit_sts = shortest_unit(work, open.ring, open.repeat_sts);
    if (unit_sts > 1)
        find_units(&open, start, band->repeats, unit_sts, &from, &to);
    if (unit_sts > 1 && to - from > unit_sts) {
        set_parts(work, strip, from, to, unit_sts, (to - from) / unit_sts, out);
        return;
    }
    unit_sts = out->nyarns > 1 ? shortest_unit(work, strip->code, strip->count) : strip->count;
    set_parts(work, strip, 0, strip->count, unit_sts,
              unit_sts > 0 ? strip->count / unit_sts : 0, out);
}

void plan_row_read(struct work *work, const struct plan *plan, const struct plan_band *band,
                   int row, int time, struct plan_row *out)
{
    bool open = !plan->round || plan->piece.cast_on.steek_sts > 0;
    int64_t first = band->first_round > 0 ? band->first_round : 1;
    int64_t round = first + (int64_t)time * band->rows + row;

    memset(out, 0, sizeof *out);
    out->row = row;
    out->right_side = plan->round || round % 2 == 1;
    for (int i = 0; i < band->ntight; i++)
        if (band->tight[i].row == row)
            out->tight |= UINT64_C(1) << band->tight[i].strand;
    if (open)
        read_open(work, band, row, out);
    else
        read_ring(work, band, row, out);
}
