// Declaration-only contract: declaration-only, never runs, not for flashing. See README.md.
// Every contract assembly carries this type; the check before flashing refuses an assembly that has it.
internal static class DeclarationOnlyContract
{
}
