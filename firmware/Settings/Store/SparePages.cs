namespace Intervalometer.Settings.Store;

/// <summary>
/// The pages of the memory that no longer store what is written, and the pages that replace them. A page of a record is replaced by a page of
/// the logbook; a page of the logbook is left out. A table in the memory itself keeps this over a restart. A sound memory has no table.
/// </summary>
/// <remarks>
/// The table lies in one page of the logbook and the table before it in another, so that a power cut leaves one of them. A table holds its
/// number times <see cref="StoreMap.LogPages"/> plus its place in the logbook (3 bytes, as in a page of the logbook), 0x2F (1), the
/// number of pairs (1), pairs of a page and its replacement, 255 for none (2 each), 0xFF, and the CRC-16/IBM-3740 of everything before it (2).
/// Firmware that knows no tables takes it for a page of later firmware, reports that, and leaves the logbook alone.
/// </remarks>
public sealed class SparePages
{
    /// <summary>How many pages can be set aside. When more fail, the chip is worn out.</summary>
    public const int Most = 12;

    /// <summary>This value means that no page replaces another: a page of the logbook is left out.</summary>
    public const int None = 0xFF;

    /// <summary>The fourth byte of a table. A page of the logbook has its version and its number of frames there.</summary>
    internal const int Kind = 0x2F;

    private const int CountAt = 4;
    private const int PairsAt = 5;
    private const int NumberBytes = 3;

    // Pairs of a page and its replacement, in the order in which the pages failed. A replacement that fails as well makes a later pair.
    private readonly byte[] _pairs = new byte[2 * Most];
    private int _count;
    private int _kept;
    private int _number;
    private int _newest = -1;
    private int _older = -1;
    private int _target = -1;

    /// <summary>How many pages are set aside.</summary>
    public int Count => _count;

    /// <summary>True when the table in the memory does not yet contain every page that was set aside.</summary>
    public bool Unkept => _count != _kept;

    /// <summary>True when no more can be set aside.</summary>
    public bool Full => _count == Most;

    /// <summary>The page that the next table overwrites, or -1 when it needs a new page.</summary>
    public int TablePage => _target >= 0 ? _target : _older;

    /// <summary>The page to read and write in place of <paramref name="page"/>.</summary>
    public int Where(int page)
    {
        for (int i = 0; i < 2 * _count; i += 2)
        {
            if (_pairs[i] == page && _pairs[i + 1] != None) page = _pairs[i + 1];
        }
        return page;
    }

    /// <summary>True when a page of the logbook holds no frames: it is set aside, replaces another page, or holds a table.</summary>
    public bool Away(int page)
    {
        if (page == _newest || page == _older) return true;
        for (int i = 0; i < 2 * _count; i++)
        {
            if (_pairs[i] == page) return true;
        }
        return false;
    }

    /// <summary>Sets a page aside, unless <see cref="Full"/>.</summary>
    /// <param name="page">The page, or the page that replaces it.</param>
    /// <param name="standIn">The page that replaces it from now on, or <see cref="None"/>.</param>
    public void SetAside(int page, int standIn)
    {
        if (Full) return;
        _pairs[2 * _count] = (byte)page;
        _pairs[2 * _count + 1] = (byte)standIn;
        _count++;
        if (page == _older) _older = -1;
        if (page == _target) _target = -1;
    }

    /// <summary>Drops everything, before the memory is read.</summary>
    public void Clear()
    {
        _count = 0;
        _kept = 0;
        _number = 0;
        _newest = -1;
        _older = -1;
        _target = -1;
    }

    /// <summary>Drops the pairs that are not in the memory's table, because the memory stores nothing at all.</summary>
    public void DropUnkept()
    {
        _count = _kept;
        _target = -1;
    }

    /// <summary>Reads a sound page of the logbook that is marked as <see cref="Kind"/>. Returns false when it is not a table.</summary>
    /// <param name="data">The bytes of the page.</param>
    /// <param name="page">Which page of the memory it is.</param>
    public bool Take(byte[] data, int page)
    {
        int count = data[CountAt];
        if (count > Most) return false;
        // divisor: the logbook has pages
        int number = (data[0] | (data[1] << 8) | (data[2] << 16)) / StoreMap.LogPages;
        if (number < _number)
        {
            _older = page;
            return true;
        }
        _older = _newest;
        _newest = page;
        _number = number;
        for (int i = 0; i < 2 * count; i++) _pairs[i] = data[PairsAt + i];
        _count = count;
        _kept = count;
        return true;
    }

    /// <summary>Writes the table into the bytes of a page.</summary>
    /// <param name="into">The bytes, one page.</param>
    /// <param name="page">The page of the memory that the table will be written to.</param>
    public void Put(byte[] into, int page)
    {
        _target = page;
        for (int i = 0; i < StoreMap.PageBytes; i++) into[i] = 0xFF;
        int number = (_number + 1) * StoreMap.LogPages + page - StoreMap.LogFirstPage;
        for (int i = 0; i < NumberBytes; i++) into[i] = (byte)(number >> (8 * i));
        into[NumberBytes] = Kind;
        into[CountAt] = (byte)_count;
        for (int i = 0; i < 2 * _count; i++) into[PairsAt + i] = _pairs[i];
        int crc = Crc.Of16(into, 0, Logbook.CrcAt);
        into[Logbook.CrcAt] = (byte)crc;
        into[Logbook.CrcAt + 1] = (byte)(crc >> 8);
    }

    /// <summary>Must be called when the table has been written.</summary>
    public void Written()
    {
        _older = _newest;
        _newest = _target;
        _target = -1;
        _number++;
        _kept = _count;
    }
}
