/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * How wide words are. No font is asked, so that no layout depends on the machine.
 */
#include <string.h>

#include "base/arena.h"
#include "sheet.h"

static const double OTHER_WIDE = 0.85;      /* letters beyond ASCII, near enough */
static const double BOLD_OTHER_WIDE = 0.95;

/* Widths of blank to tilde in thousandths of the size: DejaVu Sans 2.37, book and bold, as its own
 * table of widths has them. */
static const short widths[2][95] = {
    {
        318, 401, 460, 838, 637, 951, 780, 275, 391, 391, 500, 838, 318, 361, 318, 337,
        637, 637, 637, 637, 637, 637, 637, 637, 637, 637, 337, 337, 838, 838, 838, 531,
        1000, 685, 687, 699, 771, 632, 576, 775, 752, 295, 295, 656, 558, 863, 749, 788,
        604, 788, 695, 635, 611, 732, 685, 989, 686, 611, 686, 391, 337, 391, 838, 500,
        500, 613, 635, 550, 635, 616, 353, 635, 634, 278, 278, 580, 278, 975, 634, 612,
        635, 635, 412, 521, 393, 634, 592, 818, 592, 592, 525, 637, 337, 637, 838,
    },
    {
        349, 457, 521, 838, 696, 1002, 873, 307, 458, 458, 523, 838, 380, 416, 380, 366,
        696, 696, 696, 696, 696, 696, 696, 696, 696, 696, 400, 400, 838, 838, 838, 581,
        1000, 774, 763, 734, 831, 684, 684, 821, 837, 373, 373, 775, 638, 996, 837, 851,
        733, 851, 771, 721, 683, 813, 774, 1104, 771, 725, 726, 458, 366, 458, 838, 500,
        500, 675, 716, 593, 716, 679, 436, 716, 712, 343, 343, 666, 343, 1042, 712, 688,
        716, 716, 494, 596, 479, 712, 652, 924, 646, 652, 583, 712, 366, 712, 838,
    },
};

double sheet_letter_width(unsigned char c, bool bold)
{
    if (c < 0x20)
        c = ' ';
    if ((c & 0xC0) == 0x80) /* goes on a letter counted already */
        return 0;
    if (c >= 0x20 && c < 0x7f)
        return widths[bold][c - 0x20] / 1000.0;
    return bold ? BOLD_OTHER_WIDE : OTHER_WIDE;
}

double sheet_words_width_mm(const char *words, double size_mm, bool bold)
{
    double width = 0;

    for (; *words; words++)
        width += sheet_letter_width((unsigned char)*words, bold);
    return width * size_mm;
}

static size_t line_bytes(const char *words, double room)
{
    double width = 0;
    size_t at = 0, last_blank = 0;

    for (; words[at]; at++) {
        bool begins = (words[at] & 0xC0) != 0x80;

        if (words[at] == ' ')
            last_blank = at;
        width += sheet_letter_width((unsigned char)words[at], false);
        if (width > room && begins && at > 0 && words[at] != ' ')
            return last_blank > 0 ? last_blank : at;
    }
    return at;
}

const char *sheet_next_line(struct arena *arena, const char **words, double room)
{
    const char *line;
    size_t length;

    if (!**words)
        return NULL;
    length = line_bytes(*words, room);
    line = arena_strndup(arena, *words, length);
    *words += length;
    *words += strspn(*words, " ");
    return line;
}
