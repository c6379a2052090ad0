/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * strandwise draw: a project's bands as charts in characters or as pictures.
 */
#include <math.h>
#include <string.h>
#include <unistd.h>

#include "base/arena.h"
#include "base/number.h"
#include "base/outfile.h"
#include "base/work.h"
#include "command.h"
#include "render/draw/draw.h"
#include "render/draw/text.h"

static const double CELL_MIN_MM = 0.5, CELL_MAX_MM = 50.0;
static const double MM_PER_IN = 25.4;
static const double HAIR_MM = 1e-6; /* inches and back */
/* 300, 150 and 72 dots to the inch, the finest that keeps a picture below the most dots. */
static const double DOTS_PER_MM[] = {300 / 25.4, 150 / 25.4, 72 / 25.4};
static const double PICTURE_SIDE_DOTS = 10000;

enum form { FORM_TEXT, FORM_SVG, FORM_PDF, FORM_PNG, FORMS };

enum show { SHOW_CHART, SHOW_CHANGES, SHOW_DENTS, SHOWS };

struct request {
    enum form form;
    struct draw_style style;
    enum show show;
    bool true_size;
    bool to_file;
};

/* A form by its word, or by the end of the file's name; in the window it is text. */
static bool read_form(const struct arguments *arguments, bool to_file, enum form *form)
{
    static const char *const words[FORMS] = {"text", "svg", "pdf", "png"};
    static const char *const ends[FORMS] = {"txt", "svg", "pdf", "png"};

    *form = to_file ? FORM_SVG : FORM_TEXT;
    for (int i = 0; i < FORMS; i++)
        if (arguments->as ? strcmp(arguments->as, words[i]) == 0
                          : to_file && command_name_ends(arguments, ends[i])) {
            *form = (enum form)i;
            return true;
        }
    return !arguments->as;
}

static bool read_cell(const char *word, struct request *request)
{
    struct quantity quantity;
    size_t fault;

    if (strcmp(word, "true") == 0) {
        request->true_size = true;
        return true;
    }
    if (quantity_read(word, strlen(word), &quantity, &fault) != NUMBER_OK)
        return false;
    request->style.cell_mm = rational_double(quantity_inches(quantity, UNIT_MM)) * MM_PER_IN;
    return request->style.cell_mm >= CELL_MIN_MM - HAIR_MM && request->style.cell_mm <= CELL_MAX_MM + HAIR_MM;
}

static bool read_show(const char *word, enum show *show)
{
    static const char *const words[SHOWS] = {"chart", "changes", "dents"};

    for (int i = 0; i < SHOWS; i++)
        if (strcmp(word, words[i]) == 0) {
            *show = (enum show)i;
            return true;
        }
    return false;
}

static enum run_status read_request(const struct arguments *arguments, struct request *request)
{
    *request = (struct request){.to_file = arguments->out_path && strcmp(arguments->out_path, "-") != 0};
    if (!read_form(arguments, request->to_file, &request->form))
        return command_usage("--as takes text, svg, pdf or png, not %s.", arguments->as);
    if (command_refuses_name(arguments, "a chart", "svg, pdf, png or txt"))
        return RUN_USAGE;
    if (arguments->side && strcmp(arguments->side, "right") != 0 && strcmp(arguments->side, "wrong") != 0)
        return command_usage("--side takes right or wrong, not %s.", arguments->side);
    request->style.wrong_side = arguments->side && strcmp(arguments->side, "wrong") == 0;
    if (arguments->show && !read_show(arguments->show, &request->show))
        return command_usage("--show takes chart, changes or dents, not %s.", arguments->show);
    if (request->show != SHOW_CHART && request->style.wrong_side)
        return command_usage("--show %s is drawn from the right side: leave --side wrong out.",
                             arguments->show);
    request->style.changes = request->show == SHOW_CHANGES;
    if (request->show == SHOW_DENTS && request->form == FORM_TEXT)
        return command_usage("--show dents is a drawing: name a file (-o dents.pdf) or a form (--as svg).");
    if (arguments->cell && !read_cell(arguments->cell, request))
        return command_usage("--cell takes the width of a stitch, 0.5 to 50 mm, or the word true; not %s.",
                             arguments->cell);
    if (arguments->cell && request->form == FORM_TEXT)
        return command_usage("--cell is for pictures: add --as svg, or name a file with -o chart.pdf.");
    if (request->form > FORM_SVG && !request->to_file && isatty(STDOUT_FILENO))
        return command_usage("a %s is not for reading on the screen: name a file with -o.",
                             request->form == FORM_PDF ? "PDF" : "picture");
    return RUN_DONE;
}

/* --- bands ----------------------------------------------------------------------------- */

enum run_status command_unknown_band(struct work *work, const struct plan *plan, const char *name)
{
    int nbands = plan->piece.nbands;
    const char **names = arena_alloc(work->arena, (size_t)nbands, sizeof *names);
    struct text list = text_create(work->arena);
    const char *nearest;

    for (int i = 0; i < nbands; i++) {
        names[i] = plan->piece.bands[i].name;
        text_addf(&list, "%s%s", i == 0 ? "" : i + 1 < nbands ? ", " : " and ", names[i]);
    }
    nearest = text_nearest(name, names, nbands);
    if (nearest)
        return command_usage("there is no band %s. Did you mean %s?", name, nearest);
    return command_usage("there is no band %s. The project has %s.", name, list.bytes);
}

/* The bands to draw: all, or the one named. */
static enum run_status choose_bands(struct work *work, const struct plan *plan, const char *name,
                                    const struct plan_band **bands, int *nbands)
{
    *nbands = 0;
    for (int i = 0; i < plan->piece.nbands; i++)
        if (!name || strcmp(plan->piece.bands[i].name, name) == 0)
            bands[(*nbands)++] = &plan->piece.bands[i];
    return *nbands > 0 ? RUN_DONE : command_unknown_band(work, plan, name ? name : "");
}

static void write_text(struct work *work, const struct plan *plan, const struct plan_band **bands,
                       int nbands, const struct arguments *arguments, const struct request *request,
                       struct text *out)
{
    struct draw_text_style style = {
        .wrong_side = request->style.wrong_side,
        .changes = request->style.changes,
        .colour = arguments->colour_out && !request->to_file,
        .true_colour = arguments->true_colour,
        .width = arguments->window_columns > 0 && !request->to_file ? arguments->window_columns : 80};

    text_add(out, plan->title);
    text_add(out, *plan->title ? "\n" : "");
    for (int i = 0; i < nbands; i++)
        draw_band_text(work, plan, bands[i], &style, out);
}

int command_write_picture(const struct sheet *sheet, struct text *out)
{
    double longest = fmax(sheet->width_mm, sheet->height_mm);
    size_t choice = 0, last = sizeof DOTS_PER_MM / sizeof DOTS_PER_MM[0] - 1;

    while (choice < last && longest * DOTS_PER_MM[choice] > PICTURE_SIDE_DOTS)
        choice++;
    return sheet_write_png(sheet, DOTS_PER_MM[choice], out);
}

static void draw_sheets(struct work *work, const struct plan *plan, const struct plan_band **bands,
                        int nbands, const struct request *request, struct sheet **sheets)
{
    struct draw_style style = request->style;

    if (request->true_size)
        style.cell_mm = plan->piece.gauge.stitch_width_mm;
    for (int i = 0; i < nbands; i++)
        sheets[i] = request->show == SHOW_DENTS ? draw_dents(work, plan, bands[i], &style)
                                                : draw_band(work, plan, bands[i], &style);
}

/* Status: 0, or -1 reported. */
static int write_drawing(struct work *work, const struct plan *plan, const struct plan_band **bands,
                         int nbands, const struct request *request, struct text *out)
{
    struct sheet **sheets = arena_alloc(work->arena, (size_t)nbands, sizeof(struct sheet *));

    draw_sheets(work, plan, bands, nbands, request, sheets);
    if (request->form == FORM_PDF)
        return sheet_write_pdf(work, sheets, nbands, plan->title, out);
    if (request->form == FORM_PNG)
        return command_write_picture(draw_stack(work, sheets, nbands), out);
    sheet_write_svg(draw_stack(work, sheets, nbands), out);
    return 0;
}

enum run_status command_draw(struct work *work, const struct arguments *arguments)
{
    const struct plan *plan = NULL;
    const struct plan_band **bands;
    struct request request;
    struct text text = text_create(work->arena);
    int nbands = 0, fault = 0;
    enum run_status status = read_request(arguments, &request);

    if (status == RUN_DONE)
        status = run_plan(work, arguments->word[0], &plan);
    if (status != RUN_DONE)
        return status;
    bands = arena_alloc(work->arena, (size_t)plan->piece.nbands + 1, sizeof(struct plan_band *));
    status = choose_bands(work, plan, arguments->band, bands, &nbands);
    if (status != RUN_DONE)
        return status;
    if (request.form == FORM_TEXT)
        write_text(work, plan, bands, nbands, arguments, &request, &text);
    else
        fault = write_drawing(work, plan, bands, nbands, &request, &text);
    if (fault == 0)
        fault = request.to_file
                    ? outfile_write(work, arguments->out_path, text.bytes, text.length, OUTFILE_REPLACE)
                    : outfile_write_stdout(work, text.bytes, text.length);
    return fault == 0 ? RUN_DONE : RUN_FILE;
}
