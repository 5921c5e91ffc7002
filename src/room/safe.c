/* `backup`, `restore` and `verify`: the store is kept safe by the store itself. */
#include "toothrack/room.h"

enum outcome room_backup(struct store *store, struct arena *arena, const char *file,
                         const struct watch *watch, struct copied *out, struct fault *fault)
{
	return store_backup(store, arena, file, watch, out, fault);
}

enum outcome room_restore(struct store *store, struct arena *arena, const char *file,
                          const struct actor *actor, const struct watch *watch,
                          struct restored *out, struct fault *fault)
{
	return store_restore(store, arena, file, actor, watch, out, fault);
}

enum outcome room_verify(struct store *store, struct arena *arena, const struct watch *watch,
                         struct proof *out, struct fault *fault)
{
	return store_verify(store, arena, watch, out, fault);
}
