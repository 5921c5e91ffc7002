/* The circle's number, to what a long double holds on any machine. */
#ifndef TOOTHRACK_TRADE_PI_H
#define TOOTHRACK_TRADE_PI_H

#define PI 3.14159265358979323846264338327950288L

#endif
