/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "strandwise.h"

#include <gsl/gsl_errno.h>
#include <locale.h>
#include <string.h>

#include "base/arena.h"
#include "base/diag.h"
#include "base/tables.h"
#include "inside.h"
#include "render/draw/draw.h"
#include "render/draw/redraw.h"
#include "render/draw/text.h"
#include "render/paper/pages.h"
#include "render/render.h"
#include "render/report/proof.h"

/* --- files in memory ------------------------------------------------------------------ */

static enum file_found list_find(struct work *work, const char *name, size_t limit_bytes, struct file_got *got)
{
    const struct file_list *list = work->outside->data;

    for (int i = 0; i < list->count; i++) {
        const struct strandwise_file *file = &list->file[i];

        if (strcmp(file->name, name) != 0)
            continue;
        if (file->nbytes > limit_bytes && file->width == 0)
            return FILE_LARGE;
        got->bytes = file->width > 0 ? file->bytes : arena_strndup(work->arena, file->bytes, file->nbytes);
        got->nbytes = file->nbytes;
        got->width = file->width;
        got->height = file->height;
        return FILE_FOUND;
    }
    return FILE_NONE;
}

/* --- a core --------------------------------------------------------------------------- */

void strandwise_start(void)
{
    gsl_set_error_handler_off(); /* the one thing that is the whole program's: every status is tested */
}

/* What is done within the memory there is, and what came of it. */
struct doing {
    struct strandwise *core;
    enum run_status status;
    const struct file_list *list;
    const char *name;
    bool ladder;
    const struct redraw_asked *asked;
    const struct strandwise_wish *wish;
    struct strandwise_bytes *made;
    struct sheets *sheets;
    const struct strandwise_message *messages;
    int nmessages;
};

/* Whatever language the caller has set, numbers are written alike. */
static enum run_status run(struct doing *doing, void (*body)(void *doing))
{
    locale_t plain = newlocale(LC_ALL_MASK, "C", (locale_t)0), callers = uselocale(plain);
    bool whole = arena_run(doing->core->work.arena, body, doing);

    uselocale(callers);
    if (plain)
        freelocale(plain);
    return whole ? doing->status : RUN_MEMORY;
}

static void begin(void *data)
{
    struct doing *doing = data;
    struct strandwise *first = doing->core, *core = arena_alloc(first->work.arena, 1, sizeof *core);

    *core = *first;
    core->why = "";
    core->work.diagnostics = diagnostics_create(core->work.arena);
    core->work.tables = tables_load(&core->work);
    if (doing->list) {
        core->list = *doing->list;
        core->memory = (struct outside){list_find, NULL, &core->list};
        core->work.outside = &core->memory;
    }
    doing->core = core;
}

static struct strandwise *begin_within(struct strandwise first, const struct file_list *list)
{
    struct doing doing = {.core = &first, .list = list};

    if (first.work.arena && run(&doing, begin) == RUN_DONE && doing.core->work.tables)
        return doing.core;
    arena_destroy(first.work.arena);
    return NULL;
}

struct strandwise *strandwise_begin_with(const struct outside *outside, size_t memory_bytes)
{
    return begin_within((struct strandwise){.work = {.arena = arena_create(memory_bytes), .outside = outside}}, NULL);
}

struct strandwise *strandwise_begin(const struct strandwise_file *files, int nfiles, size_t memory_bytes)
{
    return begin_within((struct strandwise){.work = {.arena = arena_create(memory_bytes)}},
                        &(struct file_list){files, nfiles});
}

void strandwise_end(struct strandwise *core)
{
    if (core)
        arena_destroy(core->work.arena);
}

enum run_status strandwise_lacks(struct strandwise *core, const char *why)
{
    core->why = why;
    return RUN_USAGE;
}

const char *strandwise_why(const struct strandwise *core)
{
    return core->why;
}

/* --- what is planned ------------------------------------------------------------------- */

static void override(void *data)
{
    struct doing *doing = data;
    struct work *work = &doing->core->work;
    const struct tables *tables = tables_override(work, work->tables, doing->name);

    if (tables)
        work->tables = tables;
    else
        doing->status = run_verdict(work);
}

enum run_status strandwise_table(struct strandwise *core, const char *name)
{
    return run(&(struct doing){.core = core, .name = name}, override);
}

static void make_plan(void *data)
{
    struct doing *doing = data;
    struct strandwise *core = doing->core;

    if (core->planned) /* what was said of another is not said of this one */
        core->work.diagnostics = diagnostics_create(core->work.arena);
    core->planned = true;
    core->checked = (struct run_checked){NULL, NULL, NULL};
    core->redraw = NULL;
    doing->status = doing->ladder ? run_ladder(&core->work, doing->name, &core->checked.plan)
                                  : run_check(&core->work, doing->name, &core->checked);
}

enum run_status strandwise_plan(struct strandwise *core, const char *project)
{
    return run(&(struct doing){.core = core, .name = project}, make_plan);
}

enum run_status strandwise_ladder(struct strandwise *core, const char *project)
{
    return run(&(struct doing){.core = core, .name = project, .ladder = true}, make_plan);
}

/* --- bands ----------------------------------------------------------------------------- */

/* "leaves, stars and edge", the last behind that word. */
static const char *band_list(struct strandwise *core, const char *last)
{
    const struct plan_piece *piece = &core->checked.plan->piece;
    struct text list = text_create(core->work.arena);

    for (int i = 0; i < piece->nbands; i++)
        text_addf(&list, "%s%s", i == 0 ? "" : i + 1 < piece->nbands ? ", " : last, piece->bands[i].name);
    return list.bytes;
}

static enum run_status lacks_band(struct strandwise *core, const char *name)
{
    const struct plan_piece *piece = &core->checked.plan->piece;
    struct arena *arena = core->work.arena;
    const char **names = arena_alloc(arena, (size_t)piece->nbands, sizeof *names), *nearest;

    for (int i = 0; i < piece->nbands; i++)
        names[i] = piece->bands[i].name;
    nearest = text_nearest(name, names, piece->nbands);
    return strandwise_lacks(
        core, nearest ? arena_printf(arena, "there is no band %s. Did you mean %s?", name, nearest)
                      : arena_printf(arena, "there is no band %s. The project has %s.", name,
                                     band_list(core, " and ")));
}

int strandwise_band(struct strandwise *core, const char *name)
{
    const struct plan_piece *piece = &core->checked.plan->piece;

    for (int i = 0; i < piece->nbands; i++)
        if (name ? strcmp(piece->bands[i].name, name) == 0 : piece->nbands == 1)
            return i;
    if (name || piece->nbands == 0)
        lacks_band(core, name ? name : "");
    else
        strandwise_lacks(core, arena_printf(core->work.arena, "the project has several bands: add --band %s.",
                                            band_list(core, " or ")));
    return -1;
}

/* Those wished for: all, or the one named. Returned: how many; 0: said. */
static int choose_bands(struct strandwise *core, const char *name, const struct plan_band ***bands)
{
    const struct plan_piece *piece = &core->checked.plan->piece;
    int nbands = 0;

    *bands = arena_alloc(core->work.arena, (size_t)piece->nbands + 1, sizeof(struct plan_band *));
    for (int i = 0; i < piece->nbands; i++)
        if (!name || strcmp(piece->bands[i].name, name) == 0)
            (*bands)[nbands++] = &piece->bands[i];
    if (nbands == 0)
        lacks_band(core, name ? name : "");
    return nbands;
}

/* --- a redraw --------------------------------------------------------------------------- */

static void redraw(void *data)
{
    struct doing *doing = data;
    struct strandwise *core = doing->core;
    struct redraw_asked asked = *doing->asked;
    const char *why = "";

    core->redraw = NULL;
    if (!core->checked.plan || !core->checked.read) {
        doing->status = strandwise_lacks(core, "there is no plan to redraw from.");
        return;
    }
    if (asked.band < 0)
        asked.band = strandwise_band(core, doing->name);
    if (asked.band >= 0)
        core->redraw = plan_redraw_make(&core->work, core->checked.plan, core->checked.read, &asked, &why);
    if (asked.band < 0)
        doing->status = RUN_USAGE;
    else if (!core->redraw)
        doing->status = strandwise_lacks(core, why);
}

enum run_status strandwise_redraw_as(struct strandwise *core, const struct redraw_asked *asked)
{
    return run(&(struct doing){.core = core, .asked = asked}, redraw);
}

enum run_status strandwise_redraw(struct strandwise *core, const char *band, int ncols, int nrows)
{
    const struct redraw_asked asked = {.band = -1, .ncols = ncols, .nrows = nrows};

    return run(&(struct doing){.core = core, .name = band, .asked = &asked}, redraw);
}

/* --- outputs ---------------------------------------------------------------------------- */

static const double CELL_MOST_MM = 50.0;

/* Can it be wished for, and is there what it is made of? */
static bool is_ready(struct strandwise *core, const struct strandwise_wish *wish)
{
    enum strandwise_output output = wish->output;

    if (output < OUTPUT_PLAN || output > OUTPUT_REDRAW_DRAWING || wish->show < SHOW_CHART || wish->show > SHOW_DENTS)
        strandwise_lacks(core, "there is no such output.");
    else if (!(wish->cell_mm >= 0.0 && wish->cell_mm <= CELL_MOST_MM))
        strandwise_lacks(core, "a stitch is drawn at most 50 mm wide.");
    else if (!core->checked.plan)
        strandwise_lacks(core, "nothing is planned yet.");
    else if (output == OUTPUT_LADDER && !core->checked.plan->ladder)
        strandwise_lacks(core, "no ladder is planned yet.");
    else if (output == OUTPUT_CHECK && !core->checked.read)
        strandwise_lacks(core, "no chart is proof-read yet.");
    else if (output >= OUTPUT_REDRAW && !core->redraw)
        strandwise_lacks(core, "nothing is redrawn yet.");
    else
        return true;
    return false;
}

static struct sheets sheets_of_bands(struct strandwise *core, const struct strandwise_wish *wish,
                                     const struct plan_band **bands, int nbands)
{
    const struct plan *plan = core->checked.plan;
    static const enum draw_show shows[] = {
        [SHOW_CHART] = DRAW_CATCHES, [SHOW_CHANGES] = DRAW_CHANGES, [SHOW_DENTS] = DRAW_DENTS};
    struct draw_style style = {.show = shows[wish->show],
                               .wrong_side = wish->wrong_side,
                               .cell_mm = wish->true_size ? plan->piece.gauge.stitch_width_mm : wish->cell_mm};
    struct sheets sheets = {.title = plan->title, .count = nbands};

    sheets.sheet = arena_alloc(core->work.arena, (size_t)nbands, sizeof(struct sheet *));
    for (int i = 0; i < nbands; i++)
        sheets.sheet[i] = draw_band(&core->work, plan, bands[i], &style);
    return sheets;
}

static void make_sheets(void *data)
{
    struct doing *doing = data;
    struct strandwise *core = doing->core;
    const struct plan *plan = core->checked.plan;
    const struct plan_band **bands;
    int nbands;

    doing->status = RUN_USAGE;
    if (!is_ready(core, doing->wish))
        return;
    nbands = choose_bands(core, doing->wish->band, &bands);
    if (nbands == 0)
        return;
    doing->status = RUN_DONE;
    if (doing->wish->output == OUTPUT_PAGES) {
        *doing->sheets = pages_plan(&core->work, plan);
    } else if (doing->wish->output == OUTPUT_LESSON) {
        *doing->sheets = pages_lesson(&core->work, plan, bands, nbands);
    } else if (doing->wish->output == OUTPUT_REDRAW_DRAWING) {
        struct sheet **both = arena_alloc(core->work.arena, REDRAW_SHEETS_MAX, sizeof(struct sheet *));
        int count = draw_redraw(&core->work, plan, core->redraw, doing->wish->for_paper, both);

        *doing->sheets = (struct sheets){both, count, both[0]->title, false};
    } else {
        *doing->sheets = sheets_of_bands(core, doing->wish, bands, nbands);
    }
}

enum run_status strandwise_sheets(struct strandwise *core, const struct strandwise_wish *wish,
                                  struct sheets *sheets)
{
    return run(&(struct doing){.core = core, .wish = wish, .sheets = sheets}, make_sheets);
}

/* As SVG: one of the sheets, or all of them. */
static void put_sheets(struct doing *doing, struct text *out)
{
    struct sheets sheets;
    int which = doing->wish->sheet;

    doing->sheets = &sheets;
    make_sheets(doing);
    if (doing->status != RUN_DONE)
        return;
    if (which < 0 || which > sheets.count)
        doing->status = strandwise_lacks(
            doing->core, arena_printf(doing->core->work.arena, "there are %d sheets, and no sheet %d.",
                                      sheets.count, which));
    else
        sheet_write_svg(which > 0 ? sheets.sheet[which - 1]
                                  : draw_stack(&doing->core->work, sheets.sheet, sheets.count), out);
}

static enum run_status put_charts(struct strandwise *core, const struct strandwise_wish *wish, struct text *out)
{
    const struct plan *plan = core->checked.plan;
    struct draw_text_style style = {.wrong_side = wish->wrong_side,
                                    .changes = wish->show == SHOW_CHANGES,
                                    .colour = wish->colour,
                                    .true_colour = wish->true_colour,
                                    .width = wish->width > 0 ? wish->width : 80};
    const struct plan_band **bands;
    int nbands = choose_bands(core, wish->band, &bands);

    if (nbands == 0)
        return RUN_USAGE;
    text_add(out, plan->title);
    text_add(out, *plan->title ? "\n" : "");
    for (int i = 0; i < nbands; i++)
        draw_band_text(&core->work, plan, bands[i], &style, out);
    return RUN_DONE;
}

static void put_check(struct strandwise *core, const struct words_style *style, struct text *out)
{
    struct work *work = &core->work;
    const struct run_checked *checked = &core->checked;

    render_proofreading(work, checked->plan, checked->project, checked->read, style, out);
    text_add(out, diagnostics_count(work->diagnostics, DIAG_CAUTION) > 0
                      ? "Nothing to mend; the cautions are worth a look.\n"
                  : diagnostics_count(work->diagnostics, DIAG_NOTE) > 0
                      ? "Nothing that must be mended; the notes are worth a look.\n"
                      : "Nothing to mend.\n");
}

static void make(void *data)
{
    struct doing *doing = data;
    struct strandwise *core = doing->core;
    struct work *work = &core->work;
    const struct strandwise_wish *wish = doing->wish;
    const struct plan *plan = core->checked.plan;
    const struct words_style style = {.width = wish->width > 0 ? wish->width : 80, .colour = wish->colour};
    struct text out = text_create(work->arena);

    if (!is_ready(core, wish)) {
        doing->status = RUN_USAGE;
        return;
    }
    switch (wish->output) {
    case OUTPUT_PLAN: render_report(work, plan, &style, &out); break;
    case OUTPUT_DIRECTIONS: render_directions(work, plan, &style, &out); break;
    case OUTPUT_JSON: render_json(plan, &out); break;
    case OUTPUT_CHECK: put_check(core, &style, &out); break;
    case OUTPUT_LADDER: render_ladder(work, plan, &style, &out); break;
    case OUTPUT_CHART: doing->status = put_charts(core, wish, &out); break;
    case OUTPUT_REDRAW: render_redraw(work, plan, core->redraw, &style, &out); break;
    case OUTPUT_REDRAW_JSON: render_redraw_json(plan, core->redraw, &out); break;
    case OUTPUT_REDRAW_CHART: redraw_write_chart(plan, core->redraw, &out); break;
    case OUTPUT_DRAWING:
    case OUTPUT_PAGES:
    case OUTPUT_LESSON:
    case OUTPUT_REDRAW_DRAWING: put_sheets(doing, &out); break;
    }
    *doing->made = (struct strandwise_bytes){out.bytes, out.length};
}

enum run_status strandwise_make(struct strandwise *core, const struct strandwise_wish *wish,
                                struct strandwise_bytes *made)
{
    *made = (struct strandwise_bytes){"", 0};
    return run(&(struct doing){.core = core, .wish = wish, .made = made}, make);
}

/* --- messages --------------------------------------------------------------------------- */

static void list_messages(void *data)
{
    static const enum strandwise_severity severities[] = {
        [DIAG_NOTE] = STRANDWISE_NOTE, [DIAG_CAUTION] = STRANDWISE_CAUTION, [DIAG_ERROR] = STRANDWISE_FAULT};
    struct doing *doing = data;
    const struct diag *all = diagnostics_sorted(doing->core->work.diagnostics, &doing->nmessages);
    struct strandwise_message *list =
        arena_alloc(doing->core->work.arena, (size_t)doing->nmessages, sizeof *list);

    for (int i = 0; i < doing->nmessages; i++) {
        const struct place *at = &all[i].at;

        list[i] = (struct strandwise_message){severities[diag_code_severity(all[i].code)],
                                              diag_code_text(all[i].code),
                                              all[i].what,
                                              all[i].todo,
                                              at->source ? at->source->name : NULL,
                                              at->line,
                                              at->column,
                                              at->width};
    }
    doing->messages = list;
}

int strandwise_messages(struct strandwise *core, const struct strandwise_message **messages)
{
    struct doing doing = {.core = core};

    if (run(&doing, list_messages) != RUN_DONE)
        doing.nmessages = 0;
    *messages = doing.messages;
    return doing.nmessages;
}
