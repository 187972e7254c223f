namespace nanoFramework.Runtime.Native;
