using System.Net;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.Extensions.FileProviders;
using Microsoft.Extensions.Logging;

namespace Intervalometer.Tests.Page;

/// <summary>A plain file server for one folder on 127.0.0.1. It sends the files as they are.</summary>
internal sealed class FolderServer : IAsyncDisposable
{
    private readonly WebApplication _app;

    private FolderServer(WebApplication app) => _app = app;

    /// <summary>Address of the folder.</summary>
    public string Address => _app.Urls.First() + "/";

    /// <summary>Starts on a free port.</summary>
    public static async Task<FolderServer> StartAsync(string folder)
    {
        WebApplicationBuilder builder = WebApplication.CreateSlimBuilder();
        builder.Logging.ClearProviders();
        builder.WebHost.ConfigureKestrel(k => k.Listen(IPAddress.Loopback, 0));
        WebApplication app = builder.Build();
        app.UseFileServer(new FileServerOptions { FileProvider = new PhysicalFileProvider(folder), StaticFileOptions = { ServeUnknownFileTypes = true } });
        await app.StartAsync();
        return new FolderServer(app);
    }

    /// <inheritdoc />
    public ValueTask DisposeAsync() => _app.DisposeAsync();
}
