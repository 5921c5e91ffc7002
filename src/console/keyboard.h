/*
 * The terminal while the bench reads it byte by byte: every key and every scan as it is sent, in
 * order, however fast, and nothing shown of itself.
 */
#ifndef TOOTHRACK_CONSOLE_KEYBOARD_H
#define TOOTHRACK_CONSOLE_KEYBOARD_H

#include <stdbool.h>

/*
 * Takes the terminal on standard input over; what was typed ahead stays. False where it cannot. It
 * is given back as it was by keyboard_close, at the end of the program, and by a fault.
 */
bool keyboard_open(void);
void keyboard_close(void);

/* The same for a while: gives it back, stops as Ctrl-Z asks, and takes it over again. */
void keyboard_stop(void);
/* Takes it over again after somebody else had it. */
void keyboard_again(void);

#endif
