// This contract is declaration-only: it never runs and is not for flashing. See README.md.
// Every contract assembly contains this type, and the check before flashing refuses an assembly that has it.
internal static class DeclarationOnlyContract
{
}
