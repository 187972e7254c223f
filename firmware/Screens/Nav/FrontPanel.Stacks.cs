using Intervalometer.Screens.Cards;

namespace Intervalometer.Screens.Nav;

/// <content>The stacks of filters: holding Select longer on LIGHT, or holding it on GLASS, shows them, and one press puts a stack on the lens.</content>
public sealed partial class FrontPanel
{
    private readonly StacksCard _stacks;
    private int _runSeen;

    // The filters on the lens when a run begins are the stack that was used last.
    private void StacksPass()
    {
        if (_runSeen == _link.Report.Run) return;
        _runSeen = _link.Report.Run;
        _settings.Kit.Stacks.Used(_settings.Kit.FiltersOn);
    }

    private void OpenStacks()
    {
        if (_over == _filter) LeaveFilter();
        _stacks.Open();
        _over = _stacks;
        _field = NoField;
    }

    // Handles Select on the stacks: it puts the shown stack on the lens and goes home, where the new time stands. While a stack is being
    // named, Select ends that. Returns true when the stacks are shown.
    private bool PutsStackOn()
    {
        if (_over != _stacks) return false;
        if (_field != NoField) _field = NoField;
        else if (_stacks.TryPutOn()) GoHome();
        return true;
    }

    private void NameStack()
    {
        if (_field == NoField && _stacks.TryName()) _field = 0;
    }
}
