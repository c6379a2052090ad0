/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <cairo-pdf.h>

#include "cairo.h"
#include "paper.h"

static const double POINTS_PER_MM = 72.0 / 25.4;

static cairo_status_t take_bytes(void *out, const unsigned char *bytes, unsigned int nbytes)
{
    text_add_bytes(out, (const char *)bytes, nbytes);
    return CAIRO_STATUS_SUCCESS;
}

static void put_part(cairo_t *cairo, const struct sheet_part *part)
{
    const struct sheet_window *window = &part->window;

    cairo_save(cairo);
    cairo_translate(cairo, part->x_mm, part->y_mm);
    cairo_scale(cairo, part->scale, part->scale);
    cairo_translate(cairo, -window->x_mm, -window->y_mm);
    if (part->painted != PAINT_WORDS) {
        cairo_rectangle(cairo, window->x_mm, window->y_mm, window->x2_mm - window->x_mm,
                        window->y2_mm - window->y_mm);
        cairo_clip(cairo);
    }
    paper_paint(cairo, part->sheet, window, part->painted);
    cairo_restore(cairo);
}

static void put_page(cairo_t *cairo, const struct sheet_page *page)
{
    const struct sheet_window paper = {0, 0, page->width_mm, page->height_mm};

    cairo_pdf_surface_set_size(cairo_get_target(cairo), page->width_mm * POINTS_PER_MM,
                               page->height_mm * POINTS_PER_MM);
    cairo_save(cairo);
    cairo_scale(cairo, POINTS_PER_MM, POINTS_PER_MM);
    for (int i = 0; i < page->nparts; i++)
        put_part(cairo, &page->part[i]);
    paper_paint(cairo, page->margin, &paper, PAINT_ALL);
    cairo_restore(cairo);
    cairo_show_page(cairo);
}

int paper_write_pdf(struct work *work, const struct sheets *sheets, struct text *out)
{
    struct sheet_book book;
    cairo_surface_t *surface;
    cairo_t *cairo;
    cairo_status_t status;

    if (sheet_lay_out(work, sheets, &book) != 0)
        return -1;
    surface = cairo_pdf_surface_create_for_stream(take_bytes, out, book.page[0].width_mm * POINTS_PER_MM,
                                                  book.page[0].height_mm * POINTS_PER_MM);
    /* Pinned: the same plan must give the same file on any day. */
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATE_DATE, "2000-01-01T00:00:00Z");
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_TITLE, book.title);
    cairo = paper_cairo_create(surface);
    for (int i = 0; i < book.npages; i++)
        put_page(cairo, &book.page[i]);
    status = cairo_status(cairo);
    cairo_destroy(cairo);
    cairo_surface_finish(surface);
    if (status == CAIRO_STATUS_SUCCESS)
        status = cairo_surface_status(surface);
    cairo_surface_destroy(surface);
    if (status != CAIRO_STATUS_SUCCESS)
        return sheet_refuse(work, "The pages could not be drawn: there is not enough memory.",
                            "Draw one band at a time: strandwise draw PROJECT --band NAME.");
    return 0;
}
