// Declaration-only contract: it never runs and must not be flashed. See README.md.
// Every contract assembly contains this type, and the check before flashing refuses an assembly that has it.
internal static class DeclarationOnlyContract
{
}
