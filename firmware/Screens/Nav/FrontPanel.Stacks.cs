using Intervalometer.Screens.Cards;

namespace Intervalometer.Screens.Nav;

/// <content>The stacks of filters: Select held on from LIGHT or GLASS shows them, and one press puts one on the lens.</content>
public sealed partial class FrontPanel
{
    private readonly StacksCard _stacks;
    private int _runSeen;

    // What is on the lens when a run begins is the stack that was used last.
    private void TurnStacks()
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

    // Select on the stacks puts the one that is shown on the lens and goes home, where its time stands. While it is named, Select is
    // done with that. True when the stacks are shown.
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
