namespace Intervalometer.Tests.Host.Panel;

/// <summary>The packed tables in Core are exactly the drawings beside them.</summary>
[TestClass]
public class FontArtTests
{
    [TestMethod]
    [DataRow("Small")]
    [DataRow("Medium")]
    [DataRow("Large")]
    [DataRow("Huge")]
    [DataRow("Icons")]
    public void TableEqualsDrawing(string name)
    {
        string expected = FontArt.Read(name).ToTable();
        string path = FontArt.TablePath(name);
        if (Environment.GetEnvironmentVariable("REDRAW_FONTS") == "1") File.WriteAllText(path, expected);
        Assert.AreEqual(expected, File.ReadAllText(path), $"{path} is not what {name}.txt draws; set REDRAW_FONTS=1 to write it again");
    }
}
