/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * strandwise draw: a project's bands as charts in characters or as pictures.
 */
#include <string.h>

#include "command.h"

static const double CELL_MIN_MM = 0.5, CELL_MAX_MM = 50.0;
static const double MM_PER_IN = 25.4;
static const double HAIR_MM = 1e-6; /* inches and back */

struct request {
    enum form form;
    struct strandwise_wish wish;
};

static bool read_cell(const char *word, struct request *request)
{
    struct quantity quantity;

    if (strcmp(word, "true") == 0) {
        request->wish.true_size = true;
        return true;
    }
    if (!command_read_quantity(word, &quantity))
        return false;
    request->wish.cell_mm = rational_double(quantity_inches(quantity, UNIT_MM)) * MM_PER_IN;
    return request->wish.cell_mm >= CELL_MIN_MM - HAIR_MM && request->wish.cell_mm <= CELL_MAX_MM + HAIR_MM;
}

static bool read_show(const char *word, enum strandwise_show *show)
{
    static const char *const words[] = {"chart", "changes", "dents"};

    for (size_t i = 0; i < sizeof words / sizeof *words; i++)
        if (strcmp(word, words[i]) == 0) {
            *show = (enum strandwise_show)i;
            return true;
        }
    return false;
}

static enum run_status read_request(const struct arguments *arguments, struct request *request)
{
    bool to_file = command_to_file(arguments);

    *request = (struct request){.wish = {.band = arguments->band,
                                         .width = to_file ? 0 : arguments->window_columns,
                                         .colour = arguments->colour_out && !to_file,
                                         .true_colour = arguments->true_colour}};
    request->form = command_form(arguments->as, to_file ? arguments->out_path : NULL, "text svg pdf png",
                                 to_file ? FORM_SVG : FORM_TEXT);
    if (request->form == FORM_NONE)
        return command_usage("--as takes text, svg, pdf or png, not %s.", arguments->as);
    if (command_refuses_name(arguments, "a chart", "svg, pdf, png or txt"))
        return RUN_USAGE;
    if (arguments->side && strcmp(arguments->side, "right") != 0 && strcmp(arguments->side, "wrong") != 0)
        return command_usage("--side takes right or wrong, not %s.", arguments->side);
    request->wish.wrong_side = arguments->side && strcmp(arguments->side, "wrong") == 0;
    if (arguments->show && !read_show(arguments->show, &request->wish.show))
        return command_usage("--show takes chart, changes or dents, not %s.", arguments->show);
    if (request->wish.show != SHOW_CHART && request->wish.wrong_side)
        return command_usage("--show %s is drawn from the right side: leave --side wrong out.",
                             arguments->show);
    if (request->wish.show == SHOW_DENTS && request->form == FORM_TEXT)
        return command_usage("--show dents is a drawing: name a file (-o dents.pdf) or a form (--as svg).");
    if (arguments->cell && !read_cell(arguments->cell, request))
        return command_usage("--cell takes the width of a stitch, 0.5 to 50 mm, or the word true; not %s.",
                             arguments->cell);
    if (arguments->cell && request->form == FORM_TEXT)
        return command_usage("--cell is for pictures: add --as svg, or name a file with -o chart.pdf.");
    if (request->form > FORM_SVG && command_refuses_screen(arguments, request->form == FORM_PDF ? "PDF" : "picture"))
        return RUN_USAGE;
    request->wish.output = request->form == FORM_TEXT ? OUTPUT_CHART : OUTPUT_DRAWING;
    return RUN_DONE;
}

enum run_status command_draw(const struct arguments *arguments)
{
    struct request request;
    enum run_status status = read_request(arguments, &request);

    if (status == RUN_DONE)
        status = strandwise_plan(arguments->core, arguments->word[0]);
    if (status != RUN_DONE)
        return status;
    return request.form == FORM_TEXT ? command_make(arguments, &request.wish)
                                     : command_put_sheets(arguments, request.wish, request.form);
}
