/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Sheets written as files: pages of paper (PDF), pictures (PNG). The bytes depend on the libraries and
 * fonts at hand. Status: 0, or -1 reported.
 */
#ifndef STRANDWISE_PAPER_H
#define STRANDWISE_PAPER_H

#include "render/sheet/sheet.h"

/* Laid out on pages (sheet_lay_out()), as PDF. */
int paper_write_pdf(struct work *work, const struct sheets *sheets, struct text *out);

/* As a picture that says in its head how large it is, as finely as its size allows. */
int paper_write_png(const struct sheet *sheet, struct text *out);

/* Rows of red, green and blue, one dot each, from the top. -1: no memory, nothing reported. */
int paper_write_dots(struct work *work, const unsigned char *rgb, int width, int height, struct text *out);

#endif
